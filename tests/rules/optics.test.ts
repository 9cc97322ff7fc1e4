import { describe, expect, test } from 'vitest';
import { faceLight } from '../../server/core/derived/light.ts';
import { fieldAt, lensAt } from '../../server/core/derived/optics.ts';
import { findings, fixed, marked, mends, messages, severities, titles } from '../helpers/findings.ts';
import { checkSpec, kits, spec } from '../helpers/workspace.ts';

const two = `deliver:
  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }
  story: { like: film, raster: 1080x1920 }
`;
const camera = (fields: string, more = '') => `shots:\n  box: { record: 12 s, camera: { ${fields} }${more} }\n`;
const phone = (fields: string) => `kit: kits/phone.kit.yaml
camera: { raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 50, white-balance: 5000 K, focus: locked, ${fields} }
`;
/** A flat product with a part that is 40 mm deep, level before a 45 mm lens. */
const works = (fields: string, more = '') => `product:
  size: 9 x 6 x 7 cm
  parts: { movement: { size: 50 x 40 x 20 mm, height: 4 cm } }
shots:
  works: { record: 12 s, subject: movement, camera: { lens: macro, distance: 45 cm, height: 4 cm, ${fields} }${more} }
cut:
  - { shot: works, length: 10 s }
`;

describe('depth-of-field-short', () => {
  const rule = 'depth-of-field-short';

  // Near and far limit: Photographic Lenses FAQ, no. 10. By hand: c = √(17.3² + 9.731²) ÷ 1500 = 0.01323 mm,
  // h = 45² ÷ (4 × c) = 38 256 mm, near = h × 450 ÷ (h + 405) = 445.3 mm, far = h × 450 ÷ (h − 405) = 454.8 mm.
  // Blur of the front, at 430 mm: 45² ÷ 4 × 20 ÷ (430 × 405) = 0.0581 mm on 17.3 mm, 6.5 pixels of 1920.
  test('says the zone, what is seen and the blur', () => {
    expect(messages(spec(works('aperture: f/4, focus: locked')), rule)).toEqual([
      'works: f/4 focused at 45 cm holds 44.5 cm to 45.5 cm sharp, and what is seen of `movement` runs from 43 cm to 45 cm: its front is 6.5 pixels soft in `film`. Stop down, go farther back, or ask for less to be sharp.',
    ]);
  });

  test('every fix cures, the first by focus and aperture', () => {
    expect(mends(spec(works('aperture: f/4, focus: locked')), rule)).toEqual([
      'Set aperture to f/10 and focus to 44 cm (all 20 mm sharp, 2.6 stops darker)',
      'Ask only for the front to be sharp and set focus to 43 cm',
    ]);
    // f/16 is enough, only not from the middle.
    expect(mends(spec(works('aperture: f/16, focus: 480 mm')), rule)[0]).toBe(
      'Set focus to 44 cm (front and back are sharp)',
    );
  });

  test.each([
    ['aperture: f/4, focus: locked', ['warning']],
    ['aperture: f/5.6, focus: locked', ['info']], // 4.6 pixels: three circles of confusion
    ['aperture: f/8, focus: locked', []], // 3.2 pixels, on a part that is seen on the screen
    ['aperture: f/16, focus: locked', []], // 1.6 pixels, which a focus by eye mends
    ['aperture: f/2.8, focus: follow', ['info']],
    ['aperture: f/9, focus: follow', []], // On the middle of what is seen, not on the tape's.
    ['aperture: auto, focus: locked', []],
  ])('%s: %j', (fields, graded) => {
    expect(severities(spec(works(fields)), rule)).toEqual(graded);
  });

  test('a zoom in the edit makes the blur larger', () => {
    const text = works('aperture: f/8, focus: 440 mm');
    expect(messages(spec(text), rule)).toEqual([]);
    expect(messages(spec(text.replace('length: 10 s', 'length: 10 s, zoom: 1 to 2.6')), rule)).toHaveLength(1);
  });

  test('what is not seen need not be sharp; a clear product shows its back', () => {
    const deep = (finish: string) =>
      spec(
        `product: { size: 9 x 16 x 8 cm, finish: ${finish} }\n${camera('distance: 70 cm, height: 3.5 cm, focus: 640 mm, aperture: f/5.6')}`,
      );
    expect(messages(deep('satin'), rule)).toEqual([]);
    expect(messages(deep('transparent'), rule)).toHaveLength(1);
  });

  test('a pulled focus is judged where it is best', () => {
    expect(messages(spec(works('aperture: f/10, focus: 440 mm to 900 mm')), rule)).toEqual([]);
  });

  test('what has no edges can not be soft', () => {
    expect(messages(spec(works('aperture: f/4, focus: 600 mm', ', sharp: none')), rule)).toEqual([]);
  });

  test('a lens with one aperture is moved back, and the picture cropped', () => {
    const text = spec(
      `${phone('lens: main, distance: 25 cm, height: 3.5 cm, focus: 225 mm')}product: { size: 9 x 18 x 7 cm }\n`,
    );
    expect(mends(text, rule)).not.toEqual([]);
  });
});

describe('nearer-than-lens-focuses', () => {
  const rule = 'nearer-than-lens-focuses';

  // The kit: 25 cm from the sensor, which lies 7 cm behind the front of the lens.
  test.each([
    ['distance: 18 cm', 0],
    ['distance: 17.9 cm', 1],
    ['distance: 30 cm, focus: 17 cm', 1],
    ['distance: 30 cm, focus: 40 cm to 15 cm', 1],
    ['distance: 30 cm to 15 cm, focus: follow', 1],
    ['distance: 30 cm to 15 cm, focus: locked', 0],
  ])('%s: %i', (fields, count) => {
    expect(messages(spec(camera(fields)), rule)).toHaveLength(count);
  });

  test('offers the nearest distance, and a lens that shows the same from where it focuses', () => {
    // A 9 mm lens at 45 cm sees 5.6 × (450 − 9) ÷ 9 = 274 mm (thin lens).
    const text = spec(phone('lens: tele, distance: 30 cm'));
    expect(messages(text, rule)).toEqual([
      'box: `tele` focuses from 45 cm in front of it, and the focus is at 30 cm: the subject cannot be made sharp. Go farther back, or use another lens.',
    ]);
    expect(mends(text, rule)[0]).toMatch(/^Set distance to 45 cm \(the nearest of this lens, 27\.\d cm wide/);
  });

  test('silences depth of field', () => {
    const text = spec(camera('lens: macro, distance: 5.5 cm, aperture: f/2.8'));
    expect(messages(text, rule)).toHaveLength(1);
    expect(messages(text, 'depth-of-field-short')).toEqual([]);
  });
});

describe('focus-leaves-product', () => {
  const rule = 'focus-leaves-product';
  const push = (focus: string) => spec(works(`aperture: f/20, focus: ${focus}`).replace('45 cm,', '45 cm to 33 cm,'));

  test('of a camera in the hand, where it sways by more than is sharp', () => {
    // Common practice, no source: 2 cm. By the FAQ (no. 10) 45 mm at f/5.6 and 45 cm hold 13 mm, and 25 mm at f/8 and 60 cm 12 cm.
    const files = {
      'kits/hand.kit.yaml': kits['kits/camera.kit.yaml']!.replace(
        'supports:\n',
        'supports:\n  hand: { stands-on: hand }\n',
      ),
    };
    const held = (fields: string, kit = 'hand', more = '') =>
      messages(
        spec(`kit: kits/${kit}.kit.yaml
shots:
  box: { record: 12 s, sharp: front${more}, camera: { support: ${kit === 'hand' ? 'hand' : 'tripod'}, ${fields} } }
`),
        rule,
        files,
      );
    expect(held('lens: macro, distance: 45 cm, aperture: f/5.6')[0]).toMatch(
      /^box: the camera on `hand` sways by some 20 mm .* no more than \d+ mm is sharp/,
    );
    expect(held('lens: normal, aperture: f/8')).toEqual([]);
    expect(held('lens: macro, distance: 45 cm, aperture: f/5.6, focus: follow')).toEqual([]);
    expect(held('lens: macro, distance: 45 cm, aperture: f/5.6', 'hand', ', on-purpose: shallow-focus')).toEqual([]);
    expect(held('lens: macro, distance: 45 cm, aperture: f/5.6', 'camera')).toEqual([]);
  });

  test('a push on a locked focus', () => {
    expect(messages(push('follow'), rule)).toEqual([]);
    expect(mends(push('440 mm'), rule)).toHaveLength(2);
  });

  test('is silent where the first moment already fails, and before a camera that stands', () => {
    expect(messages(push('800 mm'), rule)).toEqual([]);
    expect(messages(spec(works('aperture: f/11, focus: 440 mm')), rule)).toEqual([]);
  });
});

describe('the stand of a lamp in the picture', () => {
  const rule = 'lamp-in-shot';
  // 80 cm at 200°, 60 cm high over a middle of 3.5 cm: 56.6 cm level, so 19.4 cm right and 53.2 cm behind. At 60 + 53.2 cm
  // the picture of 25 mm on 17.3 mm is 17.3 × 1131 ÷ 26.09 = 75 cm wide: (37.5 − 19.4) ÷ 75 = 24 % inside, and the lamp is over it.
  const rim = (more: string, place = 'distance: 80 cm, angle: 200°, height: 60 cm') =>
    `lamps: { rim: { use: tube, temperature: 5000 K, level: 50 %, ${place}, kept-off: lens, role: rim${more} } }\n`;
  const board = 'surface: { material: walnut board, size: 80 x 60 cm, height: 75 cm }\n';
  const told = (blocks: string) =>
    findings(spec(blocks), rule).map(({ severity, message }) => `${severity} ${message}`);

  test('is told with how far it is inside and what is seen of it', () => {
    expect(told(board + rim(', held: stand'))).toEqual([
      expect.stringMatching(
        /^warning box: the stand of `rim` is in the picture of `film`, 24 % of the width inside its right edge, from -\d.* to \d+\.\d cm above the surface\./,
      ),
    ]);
    expect(told(board + rim(''))[0]).toMatch(/^info /);
  });

  test('in a mirrored piece on the other side', () => {
    const cut = 'cut:\n  - { shot: box, length: 10 s, flip: mirror }\n';
    expect(told(board + rim('') + cut)[0]).toContain('inside its left edge');
  });

  test.each([
    ['beside the picture', board + rim('', 'distance: 80 cm, angle: 245°, height: 60 cm')],
    ['behind the backdrop', `${board}backdrop: { material: paper, size: 200 x 200 cm, behind: 50 cm }\n${rim('')}`],
    ['on a surface of which nobody said where it ends', `surface: { material: walnut board }\n${rim('')}`],
    ['over the surface', `surface: { material: table, size: 160 x 160 cm, height: 75 cm }\n${rim('')}`],
  ])('not where it is %s', (_, blocks) => {
    expect(told(blocks)).toEqual([]);
  });

  test('nor where the hands are before it that the shot looks at', () => {
    const player =
      'product: { size: 9 x 6 x 7 cm, finish: satin, parts: { hands: { size: 60 x 10 x 90 cm, height: 4 cm } } }\n';
    const shots = 'shots: { box: { record: 12 s, subject: hands, sharp: none } }\n';
    expect(told(board + rim('') + player + shots)).toEqual([]);
  });

  test('on a floor it is seen from its foot', () => {
    const floor = 'surface: { material: floor, height: 0 cm }\n';
    expect(told(floor + rim(''))[0]).toContain('from 0 mm to');
  });

  test('is mended by a little turn, where that is enough', () => {
    const fixes = fixed(spec(board + rim('', 'distance: 80 cm, angle: 215°, height: 60 cm')), rule);
    expect(Object.keys(fixes)).toEqual(['Set angle of `rim` to 220° (its stand out of the picture)']);
    expect(fixed(spec(board + rim('')), rule)).toEqual({});
  });
});

describe('how much a lens shows close up', () => {
  // The kit: 45 mm, 9 cm from its front to the sensor, which is 17.3 mm wide.
  const widths = (distance: string, moments: readonly number[]) => {
    const shot = checkSpec(spec(camera(`lens: macro, distance: ${distance}`))).film!.shots.get('box')!;
    const lenses = moments.map((moment) => lensAt(shot, moment)!);
    return lenses.map((lens) => fieldAt(lens, lens.distanceMm).widthMm);
  };

  test('from the front where it is small on the sensor, from its plane where it is large', () => {
    // 17.3 × (450 − 45) ÷ 45.
    expect(widths('45 cm', [0])[0]).toBeCloseTo(155.7, 1);
    // 12 + 9 cm to the sensor: u = (210 + √(210² − 4 × 45 × 210)) ÷ 2 = 144.7 mm, 17.3 × 99.7 ÷ 45 = 38.3; from the front 28.8.
    expect(widths('12 cm', [0])[0]).toBeCloseTo(38.3, 1);
  });

  test('without a leap between', () => {
    const moments = Array.from({ length: 120 }, (_, index) => index / 119);
    const seen = widths('240 mm to 121 mm', moments);
    const steps = seen.slice(1).map((width, index) => seen[index]! - width);
    expect(Math.min(...steps)).toBeGreaterThan(0);
    expect(Math.max(...steps)).toBeLessThan(0.5);
  });
});

describe('backdrop-edge-in-shot', () => {
  const rule = 'backdrop-edge-in-shot';
  // By similar triangles: a phone that uses 8.909 × 5.011 mm behind 6.9 mm, at 45 cm, sees 248 × 139 cm at 1.95 m.
  const at45 = phone('lens: main, distance: 45 cm, stabiliser: active');
  const hung = (fields: string) => `backdrop: { material: paper, ${fields} }\n`;

  test('says what the picture takes, and where the backdrop fits', () => {
    const text = spec(at45 + hung('size: 135 x 200 cm, behind: 150 cm'));
    expect(messages(text, rule)).toEqual([
      'box: in `film`, the picture reaches past the left and right edges of the backdrop, by up to 56.5 cm: 150 cm behind the product it takes 248 cm x 139 cm. Hang it nearer, or use a larger one.',
    ]);
    expect(
      messages(fixed(text, rule)['Hang the backdrop 56 cm behind (it fills the picture, and is less blurred)']!, rule),
    ).toEqual([]);
  });

  test('the product goes back only where there is room behind it', () => {
    // The picture of 45 mm at 60 cm meets the table in front of the product: how much of it depends on the height alone.
    const table = (depth: string, behind: string) =>
      messages(
        spec(`surface: { material: board, finish: satin, size: 120 x ${depth}, height: 75 cm }
backdrop: { material: paper, size: 200 x 200 cm, behind: ${behind} }
shots:
  box: { record: 12 s, camera: { distance: 60 cm, height: 40 cm } }
`),
        rule,
      )[0];
    expect(table('14 cm', '70 cm')).toContain('Zoom in or cover what is seen there.');
    expect(table('18 cm', '70 cm')).toContain('Stand the product with its middle 12 cm behind that edge.');
    expect(table('18 cm', '4 cm')).toContain('Zoom in or cover what is seen there.');
  });

  test('the product goes back by what all shots on the surface ask, and the camera may look down more', () => {
    const text = spec(`surface: { material: board, finish: satin, size: 120 x 40 cm, height: 75 cm }
shots:
  box: { record: 12 s, camera: { distance: 60 cm, height: 13 cm } }
  near: { record: 12 s, camera: { distance: 65 cm, height: 13 cm } }
cut:
  - { shot: box, length: 5 s }
  - { shot: near, length: 5 s }
`);
    const [back, height] = titles(text, rule);
    expect(messages(text, rule)).toEqual([expect.stringMatching(/^near \(also box\)/)]);
    expect(back).toMatch(/^Stand the product \d+ cm behind the front edge \(it is out of the picture\)$/);
    expect(height).toMatch(/^Set height to \d+ cm \(it looks down on the surface\)/);
    for (const after of [back, height]) expect(messages(fixed(text, rule)[after!]!, rule)).toEqual([]);
  });

  test('a table that another shot shows as a table may show its front edge', () => {
    const text = (other: string) =>
      spec(`surface: { material: stool, finish: satin, size: 40 x 40 cm, height: 75 cm }
backdrop: { material: paper, size: 400 x 400 cm, behind: 90 cm, bottom: -100 cm }
shots:
  near: { record: 12 s, camera: { distance: 60 cm, height: 13 cm } }
  whole: { record: 12 s, camera: { distance: ${other}, height: 30 cm } }
cut:
  - { shot: near, length: 5 s }
  - { shot: whole, length: 5 s }
`);
    expect(messages(text('65 cm'), rule)).toHaveLength(1);
    expect(messages(text('120 cm'), rule)).toEqual([]);
  });

  test('each deliverable has its own picture', () => {
    const story = 'deliver:\n  story: { raster: 1080x1920, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }\n';
    expect(messages(spec(at45 + story + hung('size: 135 x 200 cm, behind: 150 cm')), rule)).toEqual([]);
    expect(messages(spec(at45 + two + hung('size: 135 x 200 cm, behind: 150 cm')), rule)[0]).toContain('`film`');
  });

  test('zooms in only for the deliverable that sees past an edge', () => {
    // 248 cm wide in `film`, 78 cm in `story`.
    const text = spec(at45 + two + hung('size: 240 x 200 cm, behind: 150 cm'));
    const title = titles(text, rule).find((one) => one.startsWith('Zoom in'))!;
    expect(title).toMatch(/^Zoom in 1\.0\d times in `film`/);
    expect(fixed(text, rule)[title]).toContain('zoom-by: { film: 1.0');
    expect(messages(fixed(text, rule)[title]!, rule)).toEqual([]);
  });

  test.each([
    ['size: 249 x 200 cm, behind: 150 cm', 0],
    ['size: 247 x 200 cm, behind: 150 cm', 1],
    ['size: 300 x 138 cm, behind: 150 cm, bottom: -70 cm', 1],
    ['size: 300 x 144 cm, behind: 150 cm, bottom: -70 cm', 0],
  ])('%s: %i', (fields, count) => {
    const surface = 'surface: { material: slate, size: 200 x 80 cm }\n';
    expect(messages(spec(at45 + surface + hung(fields)), rule)).toHaveLength(count);
  });

  test('a gap between surface and backdrop', () => {
    const gap = (bottom: string) => messages(spec(hung(`size: 200 x 150 cm, behind: 70 cm, bottom: ${bottom}`)), rule);
    expect(gap('-10 cm')).toEqual([]);
    expect(gap('2 cm')[0]).toMatch(/reaches past the bottom edge of the backdrop/);
  });

  test('what hangs before several shots is let down for all of them, where it is written', () => {
    const shots = 'shots:\n  box: { record: 12 s }\n  near: { record: 9 s, camera: { distance: 50 cm } }\n';
    const text = spec(hung('size: 200 x 150 cm, behind: 70 cm, bottom: 2 cm') + shots);
    const [title, after] = Object.entries(fixed(text, rule))[0]!;
    expect(title).toMatch(/^Hang the bottom of the backdrop at -?\d+ cm/);
    expect(after.replace(/bottom: \S+ cm/, 'bottom: 2 cm')).toBe(text);
  });

  test('a sweep runs on under the product: it has no lower edge and no gap, and is as wide there as it hangs', () => {
    const board = 'surface: { material: oak, size: 100 x 60 cm }\n';
    const paper = (size: string, bottom: string) =>
      messages(spec(`${board}${hung(`size: ${size}, behind: 70 cm, bottom: ${bottom}`)}`), rule);
    expect(paper('200 x 150 cm', '2 cm')).toHaveLength(1);
    expect(paper('200 x 150 cm', 'sweep')).toEqual([]);
    expect(paper('40 x 150 cm', 'sweep')[0]).toMatch(/past the left and right edges of the backdrop/);
    expect(paper('200 x 15 cm', 'sweep')[0]).toMatch(/past the top edge of the backdrop/);
  });

  test('a sweep is the surface where none is written', () => {
    const standsOn = (blocks: string) => checkSpec(blocks).film!.shots.get('box')!.surface?.material?.value;
    const sweep = spec('backdrop: { material: felt, colour: "#d9d4c8", size: 2 x 2 m, behind: 1 m, bottom: sweep }\n');
    expect(standsOn(sweep)).toBe('walnut board');
    expect(standsOn(sweep.replace(/^surface: .*\n/m, ''))).toBe('felt');
  });

  test('one that is taken down has no edges, and what is hung after it is not laid on it', () => {
    const wall = hung('size: 135 x 60 cm, behind: 150 cm');
    const shots = (block: string) => `set-ups: { bare: { backdrop: none } }
shots:
  box: { record: 12 s }
  open: { record: 12 s, set-up: bare${block} }
`;
    const backdropIn = (text: string, name: string) => checkSpec(text).film!.shots.get(name)!.backdrop;
    const bare = spec(wall + shots(''));
    expect(findings(bare, rule).map((one) => one.shots)).toEqual([['box']]);
    expect(backdropIn(bare, 'box')!.size!.text).toBe('135 x 60 cm');
    expect(backdropIn(bare, 'open')).toBeUndefined();
    const again = backdropIn(spec(wall + shots(', backdrop: { behind: 1 m }')), 'open')!;
    expect([again.behind!.text, again.size]).toEqual(['1 m', undefined]);
    expect(checkSpec(bare).findings.filter(({ rule: one }) => one === 'wrong-shape')).toEqual([]);
  });

  test('a surface that is taken away leaves a sweep to stand on, or nothing', () => {
    const standsOn = (blocks: string) => checkSpec(spec(blocks)).film!.shots.get('box')!.surface?.material?.value;
    const shots = 'shots: { box: { record: 12 s, surface: none } }\n';
    expect(standsOn(shots)).toBeUndefined();
    expect(standsOn(`backdrop: { material: felt, size: 2 x 2 m, behind: 1 m, bottom: sweep }\n${shots}`)).toBe('felt');
  });

  test('a room behind the surface of which nothing is said, where no shot has a backdrop', () => {
    // The lens 8 cm up looks down by 4.3°, half of the picture is 9.2°: its top looks 4.9° up.
    const open = spec('surface: { material: slate, size: 200 x 160 cm }\n').replace(/^backdrop: .*\n/m, '');
    expect(messages(open, rule)).toEqual([
      'box: in `film`, the picture reaches past the back edge of the surface, and nothing is said of what is there. ' +
        'Look at it through the camera, or say what stands behind.',
    ]);
    const felt = open.replace(/^shots:\n/m, 'shots:\n  lid: { record: 12 s, backdrop: { material: felt } }\n');
    expect(felt).not.toBe(open);
    expect(messages(felt, rule)).toEqual([]);
  });

  test('a surface that ends too near, and one seen from above', () => {
    const board = 'surface: { material: slate, size: 60 x 40 cm }\n';
    expect(severities(spec(board), rule)).toEqual(['info']);
    const above = (size: string) =>
      spec(`surface: { material: slate, size: ${size} }\n${camera('distance: 90 cm, height: 93.5 cm')}`);
    // A 25 mm lens on 17.3 × 9.73 mm at 90 cm sees 61 × 34 cm.
    expect(messages(above('70 x 45 cm'), rule)).toEqual([]);
    expect(messages(above('40 x 45 cm'), rule)[0]).toMatch(/past the .*side.* of the surface/);
  });

  test('a camera that looks away from the backdrop', () => {
    expect(marked(spec(camera('angle: 120°')), rule)).toContain('120°');
  });
});

describe('backdrop-too-sharp', () => {
  const rule = 'backdrop-too-sharp';
  // Blur in the backdrop's plane, f ÷ N × gap ÷ s (thin lens): 25 ÷ 8 × 700 ÷ 600 = 3.6 mm.
  const hung = (fields: string) => spec(`backdrop: { size: 300 x 300 cm, behind: 70 cm, ${fields} }\n`);

  test.each([
    ['material: paper, texture: 1.8 mm', 0],
    ['material: paper, texture: 1.9 mm', 1],
    // Of creases that nobody measured the sheet for the set says that they are steamed out.
    ['material: grey linen', 0],
    // What a wall looks like is no flaw of it.
    ['material: brick wall, texture: 3 mm', 0],
  ])('%s: %i', (fields, count) => {
    expect(messages(hung(fields), rule)).toHaveLength(count);
    mends(hung(fields), rule);
  });

  test('what would not fill the picture farther back stays where it hangs', () => {
    const linen = (size: string) =>
      spec(`backdrop: { material: grey linen, texture: 6 mm, size: ${size}, behind: 70 cm }\n`);
    expect(messages(linen('300 x 300 cm'), rule)[0]).toMatch(/ Hang it farther back or open the lens\.$/);
    expect(titles(linen('300 x 300 cm'), rule)[0]).toMatch(/^Hang the backdrop \d+ cm behind \(blurred by 12 mm\)$/);
    expect(messages(linen('120 x 120 cm'), rule)[0]).toMatch(/ Open the lens\.$/);
    expect(titles(linen('120 x 120 cm'), rule).join(' ')).not.toContain('Hang');
    expect(messages(`on-purpose: sharp-backdrop\n${linen('300 x 300 cm')}`, rule)).toEqual([]);
  });
});

describe('screen-moire', () => {
  const rule = 'screen-moire';
  // Pitch 600 ÷ 2560 = 0.234 mm; a disc of 1.22 pitches, 0.286 mm, at 25 ÷ 8 × gap ÷ 600 takes a gap of 55 mm.
  test.each([
    ['behind: 5.4 cm', 1],
    ['behind: 5.5 cm', 0],
    ['behind: 5.4 cm, brightness: 0 %', 0],
  ])('%s: %i', (fields, count) => {
    expect(messages(spec(`backdrop: { use: monitor, ${fields} }\n${camera('height: 3.5 cm')}`), rule)).toHaveLength(
      count,
    );
  });
});

describe('diffraction-soft', () => {
  const rule = 'diffraction-soft';
  const stamp = (aperture: string) =>
    spec(`product: { size: 9 x 6 x 7 cm, parts: { stamp: { size: 30 x 20 mm, height: 4 cm, faces: front } } }
shots:
  box: { record: 12 s, subject: stamp, camera: { lens: macro, distance: 30 cm, aperture: ${aperture} } }
`);

  // Airy disc 2.44 × 0.55 µm × N × (1 + m) (encyclopaedia "Airy disc"); 3 pixels of 1920 on 17.3 mm are 27 µm. A lens of 45 mm at
  // 30 cm (m 0.18) keeps to that up to f/17: from f/20 f/16 makes it smaller by 20 %, from f/22 by 27 %.
  test.each([
    ['f/16', 0],
    ['f/20', 0],
    ['f/22', 1],
  ])('a stamp from near at %s: %i', (aperture, count) => {
    expect(messages(stamp(aperture), rule)).toHaveLength(count);
    mends(stamp(aperture), rule);
  });

  test('is silent where the depth needs every stop', () => {
    expect(messages(spec(works('aperture: f/18, focus: locked')), rule)).toEqual([]);
  });
});

describe('too-near-for-shape', () => {
  const rule = 'too-near-for-shape';
  const near = (distance: string, more = '') =>
    spec(`product: { size: 9 x 12 x 7 cm }\n${camera(`distance: ${distance}, height: 3.5 cm`, more)}`);

  // Only the front is seen from level, up to the middle: s ÷ (s − 6 cm) is 1.35 at 23.14 cm (perspective).
  test.each([
    ['23.2 cm', 0],
    ['23.1 cm', 1],
  ])('%s: %i', (distance, count) => {
    expect(messages(near(distance), rule)).toHaveLength(count);
    mends(near(distance), rule);
  });

  test('on purpose', () => {
    expect(messages(near('22 cm', ', on-purpose: wide-near'), rule)).toEqual([]);
  });
});

describe('stabiliser-on-locked-camera', () => {
  test('says what it costs', () => {
    const rule = 'stabiliser-on-locked-camera';
    expect(messages(spec(phone('lens: main, distance: 45 cm, support: tripod, stabiliser: active')), rule)).toEqual([
      'box: the stabiliser is on while `tripod` holds the camera: the picture may creep and snap back, and it takes 9 % of the width and of the pixels. Turn it off.',
    ]);
    expect(messages(spec(phone('lens: main, distance: 45 cm, stabiliser: active')), rule)).toEqual([]);
  });
});

describe('lamp-in-shot', () => {
  const rule = 'lamp-in-shot';
  const rim = (lens: string, fields: string) =>
    spec(`${phone(`lens: main, distance: 45 cm, ${lens}`)}lamps:
  rim: { use: tube, temperature: 5000 K, level: 50 %, distance: 60 cm, long-side: upright, ${fields} }
`);

  test('a tube at 120° and 60 cm is in a phone’s picture without the stabiliser', () => {
    // Geometry: 52 cm aside, 75 cm away: 34.7° off the axis; its near edge 33.2°, the picture ends at 34.7° (9.8 ÷ 2 ÷ 7.01).
    expect(messages(rim('stabiliser: none', 'angle: 120°'), rule)).toEqual([
      expect.stringMatching(/^box: `rim` is in the picture of `film`, by 1\.\d°\./),
    ]);
    expect(severities(rim('stabiliser: active', 'angle: 120°'), rule)).toEqual(['hint']);
    expect(
      Object.values(fixed(rim('stabiliser: none', 'angle: 120°'), rule))
        .flatMap((after) => messages(after, rule))
        .join(),
    ).not.toContain('in the picture');
  });

  test('an angle at which the backdrop would keep its light off the product is none that takes it out', () => {
    const edge = (behind: string) =>
      spec(`backdrop: { material: paper, size: 200 x 200 cm, behind: ${behind} }
lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, role: key }
  edge: { use: panel, temperature: 5000 K, distance: 80 cm, angle: 150° right, height: 10 cm, role: rim, kept-off: lens }
`);
    // cos 30° of 80 cm: 69 cm behind the product, and with every turn to the back more; 75 cm at 20°.
    for (const behind of ['72 cm', '200 cm']) {
      const angles = titles(edge(behind), rule).flatMap((title) => /to (\d+)° right/.exec(title)?.[1] ?? []);
      expect(angles.length).toBeGreaterThan(0);
      expect(angles.map(Number).filter((angle) => 80 * -Math.cos((angle * Math.PI) / 180) > 72)).toEqual([]);
    }
  });

  test('it says what takes it out: aside, farther off, or a zoom that leaves the subject whole', () => {
    const board = (size: string, place: string, role = 'fill') =>
      spec(`product: { size: ${size}, finish: satin }
backdrop: { material: paper, size: 5 x 4 m, behind: 3 m }
camera: { lens: normal, distance: 3 m, height: 55 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, aperture: f/4, iso: 400, white-balance: 5000 K, focus: locked }
lamps:
  key: { use: panel, temperature: 5000 K, distance: 300 cm, angle: 60° left, height: 150 cm, role: key }
  board: { bounces: key, size: 60 x 60 cm, ${place}, height: 60 cm, role: ${role} }
`);
    const said = (...asked: Parameters<typeof board>) => messages(board(...asked), rule)[0]?.split('°. ')[1];
    expect(said('50 x 50 x 90 cm', 'distance: 105 cm, angle: 90° right')).toBe('Move it farther off.');
    expect(said('20 x 20 x 30 cm', 'distance: 105 cm, angle: 90° right')).toBe('Move it farther off, or zoom in.');
    // A sliver of a card is pushed out of the picture by eye.
    expect(said('50 x 50 x 90 cm', 'distance: 110 cm, angle: 90° right')).toBe(
      'Push it aside until none of it is seen.',
    );
    expect(said('50 x 50 x 90 cm', 'distance: 130 cm, angle: 120° right', 'accent')).toBe('Move it aside.');
    // A fill that is turned by more than 30° fills something else.
    expect(said('50 x 50 x 90 cm', 'distance: 70 cm, angle: 60° right')).toBe('Move it farther off.');
    expect(said('50 x 50 x 90 cm', 'distance: 60 cm, angle: 75° right')).toBe(
      'Moved round it stays in the picture: film from nearer, or from another side.',
    );
    expect(mends(board('50 x 50 x 90 cm', 'distance: 70 cm, angle: 60° right'), rule)).toHaveLength(1);
  });

  test.each([
    ['angle: 90°', 0],
    ['angle: 150°, role: practical', 0],
    ['angle: 150°', 1],
  ])('%s: %i', (fields, count) => {
    expect(messages(rim('stabiliser: none', fields), rule)).toHaveLength(count);
  });
});

describe('lamp-behind-backdrop', () => {
  const rule = 'lamp-behind-backdrop';

  test('what it hides is not counted in the light of the shot, and nothing else is told of the dark', () => {
    const plan = (distance: string, material = 'paper') =>
      spec(`backdrop: { material: ${material}, size: 200 x 200 cm, behind: 70 cm }
lamps:
  back: { use: panel, temperature: 5000 K, distance: ${distance}, angle: 170°, height: 60 cm, role: key }
shots:
  box: { record: 12 s, camera: { support: top-arm, height: 63 cm } }
`);
    const light = (text: string) => faceLight([...checkSpec(text).film!.shots.values()][0]!, 0);
    // A camera that looks straight down sees the top: the room's 4 lx, and what the lamp gives.
    expect(light(plan('95 cm')).totalLux).toBe(4);
    expect(light(plan('70 cm')).totalLux).toBeGreaterThan(500);
    expect(light(plan('95 cm', 'tracing paper')).totalLux).toBeGreaterThan(500);
    expect(checkSpec(plan('95 cm')).findings.map((one) => one.rule)).toContain(rule);
    expect(messages(plan('95 cm'), 'exposure-off')).toEqual([]);
  });
  const back = (fields: string, material: string, height = '200 cm') =>
    spec(`backdrop: { material: ${material}, size: 200 x ${height}, behind: 70 cm }
lamps:
  key: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 45° }
  back: { use: tube, temperature: 5000 K, distance: 90 cm, ${fields} }
`);

  test.each([
    ['angle: 180°', 'frosted acrylic'],
    ['angle: 180°, aim: backdrop', 'paper'],
    ['angle: 120°', 'paper'],
    // Over the top of a low one.
    ['angle: 180°, height: 70 cm', 'paper', '60 cm'],
  ])('%s lights by or through %s', (fields, material, height?: string) => {
    expect(messages(back(fields, material, height), rule)).toEqual([]);
  });

  test('the least turn brings it before the backdrop too, where it is not in the picture', () => {
    const text = back('angle: 150° right, height: 30 cm, long-side: upright, kept-off: lens', 'paper');
    expect(mends(text, rule)).toEqual(['Set angle of `back` to 125° right (in front of the backdrop)']);
  });

  test('a light from behind stays one: nearer, at its height, it would stand straight above', () => {
    // 21.5 cm above the middle of the box is 16° up at 80 cm; at 24 cm, where it is out of the picture, it is 64° (asin).
    const text = (height: string) =>
      spec(`backdrop: { material: paper, size: 200 x 200 cm, behind: 70 cm }
lamps:
  key: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 45° }
  back: { use: panel, temperature: 5000 K, distance: 80 cm, angle: 175°, height: ${height}, kept-off: lens }
`);
    expect(messages(text('25 cm'), rule)).toHaveLength(1);
    expect(titles(text('25 cm'), rule)).toEqual([]);
    expect(titles(text('35 cm'), rule)).toEqual([expect.stringMatching(/^Set distance of `back` to \d+ cm/)]);
  });

  test('a board in the shadow of the backdrop gives back no light', () => {
    const board = (behind: string) =>
      spec(`backdrop: { material: paper, size: 200 x 200 cm, behind: ${behind} }
lamps:
  back: { use: panel, temperature: 5000 K, distance: 120 cm, angle: 150°, height: 30 cm, role: rim }
  board: { bounces: back, size: 60 x 60 cm, distance: 60 cm, angle: 320°, height: 30 cm, role: key }
`);
    const luxOf = (text: string) => faceLight([...checkSpec(text).film!.shots.values()][0]!, 0).lamps[1]!.lux;
    expect(luxOf(board('70 cm'))).toBe(0);
    expect(luxOf(board('130 cm'))).toBeGreaterThan(10);
    expect(messages(board('70 cm'), rule)).toEqual([expect.stringContaining('hides the product and `board` from it')]);
  });

  test('little light is turned down to a tenth of a per cent, so that it is as bright as it was meant', () => {
    // (60 ÷ 90)² of 15 % would be 6.7 % for a point; near by, the light of a long tube grows less.
    expect(titles(back('angle: 170°, height: 30 cm, level: 15 %', 'paper'), rule)).toEqual([
      expect.stringMatching(/^Set distance of `back` to 60 cm and its level to 8\.\d % \(in front of the backdrop/),
    ]);
  });
});

describe('camera-mirrored', () => {
  const rule = 'camera-mirrored';
  const box = (product: string, more = '') =>
    spec(`product: { size: 9 x 6 x 7 cm, ${product} }\n${camera('height: 3.5 cm', more)}`);

  // A reflection counts from 5 % of the face (common practice): 0.04 × 0.05 of white gloss is 0.2 %, of metal 30 %.
  test.each([
    ['finish: metallic', '', 1],
    ['finish: metallic, symmetry: 12', '', 0],
    ['finish: satin', '', 0],
    ['finish: glossy, colour: "#f4f4f0"', '', 0],
    ['finish: glossy, colour: "#101010"', '', 1],
    // asin((4.5 + 4 cm) ÷ 57 cm) is 8.6° (law of reflection).
    ['finish: metallic', ', turn: { starts: 8° }', 1],
    ['finish: metallic', ', turn: { starts: 10° }', 0],
    ['finish: metallic', ', turn: { speed: 2 rpm }', 1],
  ])('%s%s: %i', (product, more, count) => {
    expect(messages(box(product, more), rule)).toHaveLength(count);
  });

  test('every fix mends', () => {
    mends(box('finish: metallic'), rule);
    mends(box('finish: metallic', ', turn: { starts: 8° }'), rule);
  });
});

describe('lamp-mirrored', () => {
  const rule = 'lamp-mirrored';
  const label = (lamp: string, turn = '20°', finish = 'glossy') =>
    spec(`product:
  size: 9 x 6 x 7 cm
  finish: ${finish}
  parts: { label: { size: 60 x 30 mm, letters: 4 mm } }
shots:
  stamp: { record: 12 s, subject: label, turn: { starts: ${turn} }, camera: { height: 4 cm } }
lamps:
  spot: { temperature: 5000 K, level: 50 %, distance: 70 cm, height: 3 cm, ${lamp} }
`);

  // Law of reflection: a face turned by 20° sends a lamp at 40° straight into the lens at 0°.
  test.each([
    [label('angle: 40°'), 1],
    [label('angle: 80°'), 0],
    [label('angle: 40°', '0°'), 0],
    [label('angle: 40°, role: highlight'), 0],
    [label('angle: 40°', '20°', 'satin'), 0],
  ])('%#: %i', (text, count) => {
    expect(messages(text, rule)).toHaveLength(count);
    mends(text, rule);
  });
});

describe('backdrop-edge-mirrored', () => {
  const rule = 'backdrop-edge-mirrored';
  const table = (finish: string, room: string) =>
    spec(`${room}surface: { material: acrylic, finish: ${finish}, size: 120 x 80 cm }
backdrop: { material: paper, size: 300 x 130 cm, behind: 90 cm, bottom: -100 cm }
`);

  test.each([
    ['glossy', '', 1],
    ['matte', '', 0],
    ['glossy', 'room: { light: none }\n', 0],
  ])('%s, %j: %i', (finish, room, count) => {
    expect(messages(table(finish, room), rule)).toHaveLength(count);
  });
});

describe('doubled-reflection', () => {
  const rule = 'doubled-reflection';
  // The camera 24 cm, the mirrored middle 3.5 cm from the surface, 56.4 cm aside: 26° (law of reflection).
  // Snell: 5 mm of n = 1.5 seen from there: 2 × 5 × tan(asin(sin 64° ÷ 1.5)) × cos 64° = 3.3 mm.
  const sheet = (fields: string) =>
    spec(
      `surface: { material: acrylic over card, size: 120 x 80 cm, ${fields} }\n${camera('distance: 60 cm, height: 24 cm')}`,
    );

  test.each(['finish: glossy', 'finish: matte, thickness: 5 mm', 'finish: glossy, thickness: 0.3 mm'])(
    'silent: %s',
    (fields) => {
      expect(messages(sheet(fields), rule)).toEqual([]);
    },
  );

  test('says how far apart', () => {
    expect(messages(sheet('finish: glossy, thickness: 5 mm'), rule)[0]).toMatch(
      /, 3\.3 mm apart as the camera sees it/,
    );
  });
});

describe('label-too-small-to-read', () => {
  const rule = 'label-too-small-to-read';
  const label = (letters: string, deliver: string, lens = 'lens: normal, distance: 60 cm') =>
    spec(`deliver:
  film: { raster: ${deliver}, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }
product:
  size: 9 x 6 x 7 cm
  parts: { stamp: { size: 40 x 20 mm, letters: ${letters} } }
shots:
  near: { record: 12 s, subject: stamp, camera: { ${lens} } }
cut:
  - { shot: near, length: 10 s }
`);

  // 16 minutes of arc (ISO 9241-3 as quoted; NUREG-0700 1.3.1-4). A 25 mm lens at 60 cm: 1920 pixels on 398 mm, 4.82 a mm.
  // An eighth less is forgiven.
  test.each([
    ['1920x1080, viewed-on: phone-upright', '46', '8.3 mm', '8.4 mm'],
    ['1920x1080, viewed-on: phone-sideways', '26', '4.6 mm', '4.8 mm'],
    ['1920x1080, viewed-on: television', '16', '2.7 mm', '2.9 mm'],
  ])('%s wants %s pixels', (deliver, pixels, small, enough) => {
    expect(messages(label(small, deliver), rule)[0]).toContain(`reading takes ${pixels}`);
    expect(messages(label(enough, deliver), rule)).toEqual([]);
  });

  test('the best shot counts, and its fix cures', () => {
    const text = label('1 mm', '1920x1080');
    expect(messages(text, rule)).toHaveLength(1);
    expect(mends(text, rule)).toHaveLength(1);
    expect(messages(label('1 mm', '1920x1080', 'lens: macro, distance: 40 cm'), rule)).toEqual([]);
  });
});

describe('product-without-depth', () => {
  const rule = 'product-without-depth';
  const product = (size: string) => spec(`product: { size: ${size}, finish: matte }\n`);

  test('two numbers of a product are told of', () => {
    const text = product('18 x 9 cm');
    expect(messages(text, rule)).toEqual([
      '18 x 9 cm says how wide and how high the product is, and not how deep: it is taken as flat, so all of it lies in one plane of focus, turns on the spot and clears the backdrop. Write wide x deep x high.',
    ]);
  });

  test('what is offered stands in the unit of the other two', () => {
    expect(titles(product('18 x 9 cm'), rule)).toEqual([
      'Write 18 x 18 x 9 cm (as deep as wide: put in what you measure)',
      'Write 18 x 0.2 x 9 cm (a flat thing, 2 mm deep)',
    ]);
    expect(titles(product('2 x 4 in'), rule)[1]).toContain('2 x 0.0787 x 4 in');
    expect(mends(product('0.18 x 0.09 m'), rule)).toHaveLength(2);
  });

  test('a cube of 30 cm without its depth counts as sharp, and with it does not', () => {
    const cube = (size: string) =>
      spec(`product: { size: ${size} }\n${camera('lens: macro, distance: 90 cm, aperture: f/2.8')}`);
    expect(messages(cube('30 x 30 cm'), 'depth-of-field-short')).toEqual([]);
    expect(messages(Object.values(fixed(cube('30 x 30 cm'), rule))[0]!, 'depth-of-field-short')).toHaveLength(1);
  });
});

describe('backdrop-in-product', () => {
  const rule = 'backdrop-in-product';
  const film = (behind: string, shot = '', product = 'size: 10 x 6 x 8 cm', more = '') =>
    spec(
      `product: { ${product} }\nbackdrop: { material: paper, size: 200 x 200 cm, behind: ${behind}${more} }\nshots:\n  box: { record: 10 s${shot} }\n`,
    );

  test('a product 6 cm deep reaches 3 cm back', () => {
    expect(messages(film('2 cm'), rule)).toEqual([
      'box: the backdrop hangs 2 cm behind the middle of the product, which reaches 3 cm back: it would have to go through it. Hang it farther back.',
    ]);
    expect(mends(film('2 cm'), rule)).toEqual(['Hang the backdrop 4 cm behind (clear of the product)']);
    expect(messages(film('3 cm'), rule)).toEqual([]);
  });

  // √(10² + 6²) ÷ 2 = 5.83 cm (Pythagoras); a quarter turn brings the 10 cm round: 5 cm.
  test('on a turntable its corners swing 5.8 cm', () => {
    const text = film('4 cm', ', turn: { speed: 6 rpm }');
    expect(messages(text, rule)[0]).toContain('which reaches 5.8 cm back as it turns');
    expect(mends(text, rule)).toEqual(['Hang the backdrop 7 cm behind (clear of the product)']);
    const quarter = (behind: string) => messages(film(behind, ', turn: { starts: 90° }'), rule).length;
    expect([quarter('4.8 cm'), quarter('5 cm')]).toEqual([1, 0]);
  });

  test('a round one swings no corners; above its top nothing is in the way', () => {
    expect(messages(film('5 cm', ', turn: { speed: 6 rpm }', 'size: 10 x 10 x 8 cm, symmetry: 60'), rule)).toEqual([]);
    expect(messages(film('2 cm', '', 'size: 10 x 6 x 8 cm', ', bottom: 8 cm'), rule)).toEqual([]);
    expect(messages(film('2 cm', '', 'size: 10 x 6 x 8 cm', ', bottom: 7 cm'), rule)).toHaveLength(1);
  });
});

describe('two-in-one-place', () => {
  const rule = 'two-in-one-place';
  const lamps = (second: string, shot = '') =>
    spec(
      `lamps:\n  key: { use: panel, temperature: 5000 K, level: 20 %, distance: 60 cm, angle: 45°, height: 40 cm }\n  more: { use: spot, level: 10 %, ${second} }\n${shot}`,
    );

  test('the same numbers twice, and what is a hand apart', () => {
    const text = lamps('distance: 60 cm, angle: 45°, height: 40 cm');
    expect(messages(text, rule)).toEqual([
      'box: `more` and `key` stand within 30 mm of each other, which is one place for two lamps. Put one beside the other.',
    ]);
    expect(mends(text, rule)).toHaveLength(1);
    // 3° at about 45 cm round are 24 mm, 5° 39 mm (arc of a circle).
    const found = (place: string) => messages(lamps(`distance: 60 cm, ${place}`), rule).length;
    expect(['angle: 48°, height: 40 cm', 'angle: 50°, height: 40 cm', 'angle: 45°, height: 30 cm'].map(found)).toEqual([
      1, 0, 0,
    ]);
  });

  test('a lamp where the lens is, as it stands or comes by', () => {
    const text = lamps('distance: 60 cm, angle: 0°, height: 8 cm');
    expect(messages(text, rule)[0]).toContain('`more` stands where the lens is, within 30 mm');
    expect(mends(text, rule)).toHaveLength(1);
    const moving = (way: string) =>
      lamps('distance: 60 cm, angle: 30°, height: 8 cm', camera(`distance: 60 cm, height: 8 cm, angle: ${way}`));
    expect(messages(moving('0° to 60°'), rule)).toHaveLength(1);
    expect(messages(moving('0° to 20°'), rule)).toEqual([]);
  });

  test('one lamp at its two places, lit or not, is one lamp', () => {
    const again = (name: string) =>
      `lamps:
  key: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 45°, height: 40 cm }
  two: { ${name}, level: 30 %, distance: 60 cm, angle: 45°, height: 40 cm }
shots:
  box: { record: 12 s, lit: [key, two] }
`;
    const alone = again('use: panel').replace('lit: [key, two]', 'lit: two');
    const found = [again('moved-from: key'), again('use: panel'), alone].map(
      (text) => messages(spec(text), rule).length,
    );
    expect(found).toEqual([0, 1, 0]);
  });
});
