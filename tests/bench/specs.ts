/** Specs of any length, as people write them: the base film with as many shots and pieces as it takes. */
import { spec } from '../helpers/workspace.ts';

const shot = (index: number) => `  shot-${index}:
    takes: 3
    record: 14 s
    camera:                       # nearer than the rest
      distance: ${55 + (index % 20)} cm
      height: ${8 + (index % 5)} cm
      shutter: 1/50 s
    turn: { starts: ${(index * 7) % 360}°, speed: 1 rpm }
    notes: The crank comes to rest at the front.
`;

const piece = (index: number) => `  - { shot: shot-${index}, length: 2 s, from: 2 s, zoom: 1.0 to 1.${index % 5} }\n`;

/** Every shot takes nine lines and its piece one more. */
export function specOf(lines: number): string {
  const head = spec('shots: {}\ncut: []\n').split('\n').length - 3;
  const count = Math.max(1, Math.round((lines - head) / 10));
  const all = Array.from({ length: count }, (_, index) => index);
  const deliver = `deliver:\n  film: { raster: 1920x1080, rate: 25, length: ${count * 2} s, codec: h264, bitrate: 16 Mb/s, sound: none }\n`;
  return spec(`${deliver}shots:\n${all.map(shot).join('')}cut:\n${all.map(piece).join('')}`);
}
