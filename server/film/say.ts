/** What would be made, line by line. */
import { frameToTimecode, timecodeText } from '../calc/timecode.ts';
import type { Film } from '../core/film.ts';
import { num, percentText, rasterText, secondsText } from '../core/say.ts';
import type { Ends } from '../core/units.ts';
import type { Assembly, Picture, Segment } from './assembly.ts';

export function assemblyText({ output, frames, segments, titles }: Assembly, film: Film): string {
  const { rate } = output;
  const fps = num(rate.num / rate.den, 3);
  const head = `${output.name}: ${frames} frames at ${fps} a second, ${rasterText(output.raster)}, ${output.codec} in ${output.container}`;
  const at = (frame: number) => timecodeText(frameToTimecode(frame, rate, false));
  const line = ({ startFrame, frames: count, picture, into }: Segment) => {
    const from = pictureText(picture, film);
    const what = into ? `${from} turns into ${pictureText(into.picture, film)}` : from;
    return `  ${at(startFrame)} ${String(count).padStart(5)} frames  ${what}\n`;
  };
  const words = titles.map(
    ({ title, startFrame, frames: count }) =>
      `  ${at(startFrame)} ${String(count).padStart(5)} frames  title \`${title.text?.value.trim() ?? ''}\`\n`,
  );
  return `${head}\n${segments.map(line).join('')}${words.join('')}`;
}

function pictureText(picture: Picture, film: Film): string {
  if (picture.kind === 'plain') return picture.colour === '#000000' ? 'black' : picture.colour;
  if (picture.kind === 'drawn') {
    const { shotName, footage } = film.cut[picture.piece]!;
    return `\`${(shotName ?? footage)?.text ?? ''}\` drawn${lookText(picture.zoom, picture.shift)}`;
  }
  const { clip, fromS, framing } = picture;
  return `\`${clip.path}\` from ${secondsText(fromS)}${lookText(framing.zoom, framing.shift)}`;
}

function lookText(zoom: Ends, shift: Ends): string {
  const ends = (name: string, { from, to }: Ends, usual: number, text: (value: number) => string) => {
    if (from === usual && to === usual) return '';
    return text(from) === text(to) ? `, ${name} ${text(from)}` : `, ${name} ${text(from)} to ${text(to)}`;
  };
  return ends('zoom', zoom, 1, (value) => num(value, 3)) + ends('shift', shift, 0, (value) => percentText(value));
}
