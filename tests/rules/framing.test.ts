import { describe, expect, test } from 'vitest';
import { fixed, marked, mends, messages, severities } from '../helpers/findings.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const two = `deliver:
  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }
  story: { like: film, raster: 1080x1920 }
`;
const cut = (piece: string) => `cut:\n  - { shot: box, length: 10 s${piece} }\n`;
const camera = (fields: string) => `shots:\n  box: { record: 12 s, camera: { ${fields} } }\n`;
/** A phone at 45 cm, stabiliser on, as in the worked numbers below. */
const phone = `kit: kits/phone.kit.yaml
camera: { lens: main, distance: 45 cm, stabiliser: active, raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 50, white-balance: 5000 K, focus: locked }
`;

describe('zoom-outruns-raster', () => {
  const rule = 'zoom-outruns-raster';

  // Exact ratios of pixels: 3840 ÷ 1920 = 2; 2160 × 9/16 ÷ 1080 = 1.125.
  test.each([
    ['zoom: 2', []],
    ['zoom: 1 to 2', []],
    ['zoom: 2.2', []],
    ['zoom: 2.21', ['hint']],
    ['zoom: 2.4', ['hint']],
    ['zoom: 2.41', ['warning']],
    ['zoom: 1 to 3', ['warning']],
    ['zoom: 3 to 1', ['warning']],
  ])('3840 recorded for 1920 with %s: %j', (zoom, graded) => {
    const text = spec(`${camera('distance: 130 cm')}${cut(`, ${zoom}`)}`);
    expect(severities(text, rule)).toEqual(graded);
  });

  // 1920 recorded for 1920: a zoom of 1.3 enlarges by 1.3, which its maker sees in the plan.
  test.each([
    ['zoom: 1 to 1.3', ['hint']],
    ['zoom: 1 to 1.4', ['warning']],
  ])('as many recorded as delivered with %s: %j', (zoom, graded) => {
    const text = spec(`${camera('distance: 130 cm, raster: 1920x1080')}${cut(`, ${zoom}`)}`);
    expect(severities(text, rule)).toEqual(graded);
  });

  test('counts the pixels of each deliverable', () => {
    const text = spec(two + cut(', zoom: 1 to 1.4'));
    expect(messages(text, rule)).toEqual([
      'box: zoom 1.4 leaves 867 recorded pixels for a width of 1080 in `story`: the picture is enlarged 1.24 times and will look soft. Zoom less, or film nearer.',
    ]);
    expect(mends(text, rule)).toEqual(['Set zoom to `1 to 1.12` in every deliverable (no pixel is enlarged)']);
  });

  test('offers a factor for one deliverable where its edges stay filled', () => {
    const text = spec(two + cut(', zoom: 1.25 to 1.4'));
    expect(mends(text, rule)[0]).toBe(
      'Set the zoom-by of `story` to 0.8 (zoom 1 to 1.12 there, the others keep theirs)',
    );
    expect(messages(spec(two + cut(', zoom: 1.25 to 1.4, zoom-by: { story: 0.8 }')), rule)).toEqual([]);
  });

  test('reports deliverables that are alike together, and a raster that is too small without zoom', () => {
    const alike = two + '  teaser: { like: story }\n';
    expect(messages(spec(alike + cut(', zoom: 1.4')), rule)[0]).toContain('`story` and `teaser`');
    const small = spec(`${two}${camera('raster: 1920x1080, rate: 25')}${cut('')}`);
    expect(messages(small, rule)).toEqual([
      'box: 1920x1080 leaves 607 recorded pixels for a width of 1080 in `story`, even without a zoom: the picture is enlarged 1.78 times and will look soft. Record a larger raster, or deliver a smaller one.',
    ]);
    expect(mends(small, rule)).toEqual(['Record at 3840x2160']);
  });

  test('looks only at the part that a deliverable shows', () => {
    const part = (section: string) =>
      spec(`${two}  teaser: { like: story, section: ${section} }\n${cut(', zoom: 1 to 1.3')}`);
    expect(messages(part('0 s to 5 s'), rule).join()).not.toContain('teaser');
    expect(messages(part('5 s to 10 s'), rule).join()).toContain('teaser');
  });

  test('a camera on its side records a tall picture', () => {
    expect(messages(spec(two + camera('way-up: on-its-side') + cut(', zoom: 1.9')), rule).join()).not.toContain(
      'story',
    );
  });

  test('on purpose', () => {
    expect(messages(spec(`on-purpose: soft-picture\n${cut(', zoom: 2.5')}`), rule)).toEqual([]);
  });
});

describe('edges-empty', () => {
  const rule = 'edges-empty';

  // values of straightening at 16:9, cos α + 16/9 × sin α: 1° 1.03087, 2° 1.06143, 5° 1.15114 (geometry).
  test.each([
    ['straighten: 1°, zoom: 1.03', 1],
    ['straighten: 1°, zoom: 1.031', 0],
    ['straighten: -2°, zoom: 1.061', 1],
    ['straighten: -2°, zoom: 1.062', 0],
    ['straighten: 5°, zoom: 1.2 to 1.15', 1],
    ['straighten: 5°, zoom: 1.2 to 1.152', 0],
    ['shift: 5 %', 1],
    ['shift: 5 %, zoom: 1.1', 0],
    ['shift: 5 %, zoom: 1.09', 1],
    ['zoom: 0.9', 1],
  ])('%s: %i', (piece, count) => {
    const text = spec(cut(`, ${piece}`));
    expect(messages(text, rule)).toHaveLength(count);
    mends(text, rule);
  });

  test('a tall picture out of a wide one has room to move sideways', () => {
    const story = 'deliver:\n  story: { raster: 1080x1920, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }\n';
    const found = (shift: string) => messages(spec(`${story}${cut(`, shift: ${shift}`)}`), rule).length;
    expect([found('20 %'), found('110 %')]).toEqual([0, 1]);
  });

  test('points at the factor that shrinks one deliverable', () => {
    const text = spec(two + cut(', zoom: 1 to 1.3, zoom-by: { story: 0.8 }'));
    expect(marked(text, rule)).toEqual(['0.8']);
    expect(mends(text, rule)).toEqual(['Set the zoom-by of `story` to 1 (its edges are filled)']);
  });
});

describe('product-outside-crop', () => {
  const rule = 'product-outside-crop';

  test('a turning box is as wide as its diagonal', () => {
    // At 45 cm a 25 mm lens on 17.3 × 9.73 mm sees 294 × 165 mm; the tall crop of it is 93 mm wide.
    const at = (distance: string, turn: string) =>
      spec(`${two}shots:\n  box: { record: 32 s, camera: { distance: ${distance} }${turn} }\n${cut('')}`);
    expect(messages(at('55 cm', ''), rule)).toEqual([]);
    expect(messages(at('45 cm', ', turn: { speed: 2 rpm }'), rule)[0]).toMatch(
      /^box: in `story`, the product is cut off at the left and right, by .* across, and the picture shows 9\.3 cm there\. Go farther back and zoom in for the others/,
    );
    expect(mends(at('45 cm', ', turn: { speed: 2 rpm }'), rule)).toEqual([
      'Set distance to 56 cm and zoom in again, but in `story` (it fits there, the others stay as they are)',
      'Set distance to 56 cm (it fits with 2.5 % to spare, 1.24 times smaller)',
    ]);
  });

  test('a turn that stops before the corner passes needs less', () => {
    const turned = (by: string) =>
      spec(`${two}shots:\n  box: { record: 12 s, camera: { distance: 52 cm }, turn: { by: ${by} } }\n${cut('')}`);
    expect(['5°', '34°', '360°'].map((by) => messages(turned(by), rule).length)).toEqual([0, 1, 1]);
  });

  test('a product off the middle is brought back by a shift', () => {
    const text = spec(two + camera('off-centre: 10 %') + cut(''));
    expect(messages(text, rule)[0]).toMatch(/in `story`, the product is cut off at the right/);
    expect(mends(text, rule)[0]).toBe('Move the picture 32 % to the left in `story`');
  });

  test.each([
    ['34 cm', 'info'],
    ['45 cm', 'warning'],
  ])('what a tall picture cuts much off is a note: from %s it is %s', (distance, severity) => {
    const text = spec(`${two}shots:\n  box: { record: 12 s, camera: { distance: ${distance} } }\n${cut('')}`);
    expect(severities(text, rule)).toEqual([severity]);
  });

  test('of one distance, what sits off the middle and what is too wide are told apart', () => {
    const two = `deliver:
  story: { raster: 1080x1920, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }
`;
    const shots = `shots:
  aside: { record: 12 s, camera: { off-centre: 12 % } }
  turned: { record: 12 s, camera: { angle: 35°, focal: 50 mm } }
cut:
  - { shot: aside, length: 5 s }
  - { shot: turned, length: 5 s }
`;
    expect(messages(spec(two + shots), rule)).toEqual([
      expect.stringMatching(/^aside: .* free on the other side\. Move the picture over\.$/),
      expect.stringMatching(/^turned: .* is cut off at the left and right/),
    ]);
  });

  test('points at the zoom when that is what cuts it, else at the distance', () => {
    expect(marked(spec(cut(', zoom: 1 to 3.4')), rule)).toEqual(['1 to 3.4']);
    expect(mends(spec(cut(', zoom: 1 to 3.4')), rule)[0]).toMatch(/^Set zoom to `1 to 2\.\d+` \(all of/);
    expect(marked(spec(camera('distance: 18 cm')), rule)).toEqual(['18 cm']);
  });

  test('pieces of one shot that are cut in one deliverable are one finding, named, and mended together', () => {
    const pieces = (a: string, b: string) =>
      spec(`${two}cut:\n  - { shot: box, length: 5 s, zoom: ${a} }\n  - { shot: box, length: 5 s, zoom: ${b} }\n`);
    const text = pieces('1.6', '3.4');
    expect(messages(text, rule)).toEqual([
      expect.stringMatching(/^box, piece 2 \(also box, piece 1\): in `story`, the product is cut off/),
    ]);
    expect(fixed(text, rule)).toMatchObject({
      'Set zoom of piece 2 to 1.25 (all of the product is in the picture), and the others as each needs it': pieces(
        '1.25',
        '1.25',
      ),
    });
  });

  test('on purpose, and without a size', () => {
    const near = camera('distance: 18 cm').replace('} }', '}, on-purpose: tight-framing }');
    const sizeless = `product: { finish: satin }\n${camera('distance: 18 cm')}`;
    expect([near, sizeless].flatMap((blocks) => messages(spec(blocks), rule))).toEqual([]);
  });
});

describe('product-small-in-frame', () => {
  const rule = 'product-small-in-frame';

  test('says the share and the pixels', () => {
    // 9 cm at 45 cm on a phone's main lens: 16 % of 572 mm, 22 % of 322 mm (field = sensor × (s − f) ÷ f), a little more
    // for the front, which is nearer.
    expect(messages(spec(phone), rule)).toEqual([
      'box: in `film`, the product fills at most 17 % of the width and 23 % of the height: 252 pixels of 1080. Its detail will be hard to see: go nearer, or zoom in.',
    ]);
    expect(mends(spec(phone), rule)).toHaveLength(2);
  });

  test('the largest moment counts, in each deliverable', () => {
    expect(messages(spec(phone + cut(', zoom: 1 to 1.4')), rule)).toEqual([]);
    expect(messages(spec(two + phone), rule).join()).not.toContain('story');
  });

  test('a part without letters may be small for two seconds', () => {
    const bubble = (length: string) =>
      spec(`${phone}product: { size: 9 x 6 x 20 cm, parts: { bubble: { size: 9 x 6 x 7 cm } } }
shots:
  box: { subject: bubble, record: 12 s }
cut:
  - { shot: box, length: ${length} }
`);
    const lettered = bubble('2 s').replace('7 cm }', '7 cm, letters: 0.5 mm }');
    const found = [bubble('10 s'), bubble('2 s'), lettered].map((text) => messages(text, rule).length);
    expect(found).toEqual([1, 0, 1]);
  });

  test('is silent under a title and on purpose', () => {
    const title = 'titles:\n  - { text: "Tinnabel", at: 2 s, hold: 3 s, place: top }\n';
    const blocks = [title, 'on-purpose: small-in-frame\n'];
    expect(blocks.flatMap((block) => messages(spec(phone + block), rule))).toEqual([]);
  });
});

describe('mounted-upside-down', () => {
  const rule = 'mounted-upside-down';
  const under = camera('way-up: upside-down');

  test.each([
    [under + cut(''), 1],
    [under + cut(', flip: upright'), 0],
    [under + cut(', flip: mirror'), 1],
    [cut(', flip: upright'), 1],
    [cut(', flip: mirror'), 0],
    [camera('way-up: on-its-side') + cut(''), 0],
  ])('%j: %i', (blocks, count) => {
    const text = spec(blocks);
    expect(messages(text, rule)).toHaveLength(count);
    mends(text, rule);
  });

  test('straight down it is only a note', () => {
    const text = spec(camera('way-up: upside-down, distance: 60 cm, height: 63.5 cm') + cut(''));
    expect(severities(text, rule)).toEqual(['info']);
  });
});

describe('product-outside-crop along a slide', () => {
  const rule = 'product-outside-crop';
  // A picture of about 10.5 cm at the stone, which is 6 cm wide.
  const film = (slide: string, mustShow = 'stone') =>
    spec(
      `brief: { client: Halm and Ruhe, must-show: [${mustShow}] }\nproduct: { size: 9 x 6 x 7 cm, parts: { stone: { size: 6 x 1 x 3 cm }, foot: { size: 9 x 6 x 1 cm } } }\nshots:\n  box: { subject: stone, record: 12 s, action: { what: The camera slides., lasts: 10 s }, camera: { distance: 16 cm, slide: ${slide} } }\n`,
    );

  test('tells what must be seen and is cut off before and after, and lets go what is cut off once', () => {
    expect(messages(film('-6 cm to 6 cm'), rule)[0]).toMatch(/^box: .* is cut off at both ends of the slide, by up to/);
    const fine = [film('0 cm to 6 cm'), film('-1 cm to 1 cm'), film('-6 cm to 6 cm', 'foot')];
    expect(fine.flatMap((text) => messages(text, rule))).toEqual([]);
  });

  test('what goes beside the camera stays in the picture, and its rail travels all the same', () => {
    const text = film('-6 cm to 6 cm');
    const along = text.replace('lasts: 10 s', 'lasts: 10 s, moves: both');
    expect(fixed(text, rule)['Say that `stone` goes beside the camera, at its pace']).toBe(along);
    expect(messages(along, rule)).toEqual([]);
    const far = along
      .replace('-6 cm to 6 cm', '-60 cm to 60 cm')
      .replace('camera: { dist', 'camera: { support: slider, dist');
    expect(messages(far, 'move-beyond-kit')).toEqual([
      expect.stringContaining('the slide from -60 cm to 60 cm is 120 cm'),
    ]);
  });
});

describe('letters-mirrored', () => {
  const rule = 'letters-mirrored';
  const film = (shot: string, piece: string) =>
    spec(
      `product: { size: 9 x 6 x 7 cm, parts: { stamp: { size: 30 x 10 mm, letters: 6 mm }, foot: { size: 9 x 6 x 1 cm } } }\nshots:\n  box: { record: 12 s${shot} }\n${cut(piece)}`,
    );

  test('letters in a mirrored piece read backwards, and only there', () => {
    const text = film(', subject: stamp', ', flip: mirror');
    expect(messages(text, rule)).toEqual([
      'box: this piece is mirrored, and it shows `stamp`, whose letters then read backwards. Leave the picture as recorded, or mirror a shot that shows none.',
    ]);
    expect(Object.entries(fixed(text, rule))).toEqual([
      ['Leave the picture as recorded', text.replace(', flip: mirror', '')],
    ]);
    expect(messages(film(', shows: [stamp, foot]', ', flip: mirror'), rule)).toHaveLength(1);
    const fine = [
      film(', shows: foot', ', flip: mirror'),
      film(', subject: stamp', ', flip: upright'),
      film(', subject: stamp', ''),
    ];
    expect(fine.flatMap((one) => messages(one, rule))).toEqual([]);
  });
});

describe('product-overhangs-surface', () => {
  const rule = 'product-overhangs-surface';
  const film = (surface: string, turn = '', product = 'size: 10 x 6 x 8 cm') =>
    spec(
      `product: { ${product} }\nsurface: { material: board, size: ${surface}, height: 75 cm }\nshots:\n  box: { record: 12 s${turn} }\n`,
    );

  test('10 x 6 cm on 5 x 5 cm: 2.5 cm over the sides, 5 mm over front and back', () => {
    expect(messages(film('5 x 5 cm'), rule)).toEqual([
      'box: the product, 10 x 6 x 8 cm, reaches 25 mm past the edges of the surface, 5 x 5 cm. Is that the size of what it stands on? If so, mind that it can tip.',
    ]);
    expect(['5 x 5 cm', '6 x 6 cm'].flatMap((size) => severities(film(size), rule))).toEqual(['warning', 'sheet']);
    expect(messages(film('20 x 2 cm'), rule)[0]).toContain('20 mm past the front and back of');
  });

  test('as it stands turned; a plate of a turntable comes between; a round one has no corners', () => {
    expect(messages(film('10 x 6 cm'), rule)).toEqual([]);
    expect(messages(film('10 x 6 cm', ', turn: { starts: 90° }'), rule)[0]).toContain('20 mm past the front and back');
    const round = film('10 x 10 cm', '', 'size: 10 x 10 x 8 cm, symmetry: 60');
    expect([film('5 x 5 cm', ', turn: { speed: 2 rpm }'), round].flatMap((text) => messages(text, rule))).toEqual([]);
  });
});

describe('height-beyond-distance', () => {
  const rule = 'height-beyond-distance';

  test.each([
    // 50 cm and 5 % of it above the middle, at 3.5 cm: a tape that was read in a hurry is straight above.
    ['distance: 50 cm, height: 56 cm', 0],
    ['distance: 50 cm, height: 56.1 cm', 1],
    ['distance: 50 cm, height: 20 cm to 60 cm', 1],
    ['distance: 50 cm', 0],
  ])('a camera with %s over a product 7 cm high: %i', (fields, count) => {
    expect(messages(spec(camera(fields)), rule)).toHaveLength(count);
  });

  test('a lamp, whose fixes hold', () => {
    const text = spec(
      'lamps:\n  top: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 0°, height: 123.4 cm }\n',
    );
    expect(marked(text, rule)).toEqual(['123.4 cm']);
    expect(mends(text, rule)).toEqual([
      'Set height to 63.5 cm (straight above, as far away as now)',
      'Set distance to 119.9 cm (straight above, as high as now)',
    ]);
  });
});

test('a plain spec has no finding', () => {
  expect(checkSpec(spec('')).findings.map((one) => one.message)).toEqual([]);
});
