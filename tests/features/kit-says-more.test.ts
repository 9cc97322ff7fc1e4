/** What a kit is offered to say where a spec asks more of its gear: a spec and a kit in, the kit after it out. */
import { expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { kitChangesAt } from '../../server/features/kit-says-more.ts';
import { split } from '../helpers/cursor.ts';
import { checkSpec, kits, spec } from '../helpers/workspace.ts';

const path = 'kits/camera.kit.yaml';

function offered(marked: string, kit: string): Record<string, string> {
  const { text, offset } = split(marked);
  const result = checkSpec(text, { [path]: kit });
  const changes = kitChangesAt(result, { start: offset, end: offset }, (one) =>
    one === path ? parseDocument(kit) : undefined,
  );
  return Object.fromEntries(changes.map(({ title, files: [file] }) => [title, applyEdits(kit, file!.edits)!]));
}

const zoomed = kits[path]!;
const fixed = zoomed.replace('aperture: f/1.7 to f/22', 'aperture: f/1.7');

test('a single f-number means nothing else, and is made a range where the spec stops down', () => {
  expect(offered(spec('shots:\n  box: { record: 12 s, camera: { aperture: f/1‸1 } }\n'), fixed)).toEqual({
    'If `normal` stops down, write `aperture: f/1.7 to f/22` in kits/camera.kit.yaml': zoomed,
  });
});

test('a phone lens has one aperture', () => {
  const phone = `kit: kits/phone.kit.yaml
camera: { lens: main, distance: 45 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, iso: 50, aperture: f/‸8 }
`;
  expect(offered(spec(phone), zoomed)).toEqual({});
});

test('a lens zooms', () => {
  const marked = spec('shots:\n  box: { record: 12 s, camera: { focal: 3‸5 mm } }\n');
  expect(offered(marked, zoomed)).toEqual({
    'If `normal` zooms, write `focal: 25 mm to 35 mm` in kits/camera.kit.yaml': zoomed.replace(
      'focal: 25 mm',
      'focal: 25 mm to 35 mm',
    ),
  });
});

test('a turntable that the kit lacks is added', () => {
  const kit = zoomed.replace(/turntables:\n.*\n\n/, '');
  const marked = spec('shots:\n  box: { record: 12 s, turn: { use: sm‸all, speed: 1 rpm } }\n');
  const [[title, after]] = Object.entries(offered(marked, kit)) as [[string, string]];
  expect(title).toContain('Add the turntable `small` to kits/camera.kit.yaml');
  expect(after).toContain('turntables:\n  small: { speed: 0.5 rpm to 4 rpm, load: 3 kg, size: 20 x 20 cm }');
});
