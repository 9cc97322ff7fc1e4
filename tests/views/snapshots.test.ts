/** Every view of one small film, as it was when somebody last looked at it. Renew with `npx vitest run tests/views -u`. */
import { expect, test } from 'vitest';
import { draw, pictureText, views } from '../../server/views/index.ts';
import { checked } from '../helpers/drawing.ts';

const { result } = checked(`music: { track: tune, tempo: 100 bpm, length: 60 s }
shots:
  box: { takes: 2, record: 14 s, turn: { use: large, starts: 20°, speed: 0.5 rpm } }
cut:
  - { shot: box, length: 10 s, from: 2 s, zoom: 1.0 to 1.1, fade-in: 0.5 s }
titles:
  - { text: Tinnabel, at: 5 s, hold: 4 s, letters: 8 %, place: bottom, colour: "#ffffff", over: "#4a2a20" }
`);

test.each(views.map((view) => view.name))('%s', async (name) => {
  const svg = pictureText(draw(name, result)!).replaceAll('><', '>\n<');
  await expect(`${svg}\n`).toMatchFileSnapshot(`snapshots/${name}.svg`);
});

test('a view or a shot that is not there gives nothing', () => {
  expect(draw('nope', result)).toBeUndefined();
  expect(draw('frame', result, { shot: 'nope' })).toBeUndefined();
});
