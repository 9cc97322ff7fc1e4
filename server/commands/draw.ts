/** `shootspec draw`: one view of a spec as an SVG file, or a shot as its camera will see it as a PNG file. */
import { litRecorded, litShowing } from '../core/derived/lit/index.ts';
import { showingsOf } from '../core/derived/showings.ts';
import type { Film } from '../core/film.ts';
import { draw as drawView, pictureText, views } from '../views/index.ts';
import { litFile } from '../views/lit/index.ts';
import { checkedSpec } from './spec-file.ts';
import { oneOf, parse, print, UsageError, wholeNumber } from './usage.ts';
import { writeOutput } from './write.ts';
import { table } from './table.ts';

const example = 'shootspec draw music-box.shoot.yaml --view frame --shot opening -o frame.svg';
const litExample = 'shootspec draw music-box.shoot.yaml --as lit --shot opening -o opening.png';

export async function draw(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'draw');
  const { shot, deliverable, output } = values;
  const isLit = oneOf('--as', values.as ?? 'lines', table.draw.options.as.words) === 'lit';
  const isPng = /\.png$/i.test(output ?? '');
  if (!(isLit && isPng)) assertSvg(output, isLit);
  const width = values.width === undefined ? 1920 : wholeNumber('--width', values.width);
  if (values.width !== undefined && !isPng)
    throw new UsageError(`\`--width\` is that of a PNG file: \`${litExample}\`.`);
  if (width < 16 || width > 7680) throw new UsageError('--width takes 16 to 7680 pixels.');
  const view = viewOf(values.view, isLit);
  const { result, film } = await checkedSpec(positionals, isLit ? litExample : example);
  if (shot !== undefined) oneOf('--shot', shot, [...film.shots.keys()]);
  if (deliverable !== undefined) oneOf('--deliverable', deliverable, [...film.deliverables.keys()]);
  if (isPng) {
    writeOutput(output!, litPng(film, { shot, deliverable, width }));
    return 0;
  }
  const picture = drawView(view, result, { shot, deliverable, isLit });
  if (!picture) throw new UsageError('There is no shot in this spec to draw.');
  const svg = `${pictureText(picture)}\n`;
  if (output === undefined) return print(svg);
  writeOutput(output, svg);
  return 0;
}

function viewOf(said: string | undefined, isLit: boolean): string {
  const names = views.map((one) => one.name);
  if (said === undefined && !isLit) throw new UsageError(`Say which view, ${names.join(', ')}: \`${example}\`.`);
  const view = oneOf('--view', said ?? 'frame', names);
  if (isLit && view !== 'frame') throw new UsageError(`Only \`frame\` is drawn as lit, not \`${view}\`.`);
  return view;
}

interface LitChoice {
  readonly shot: string | undefined;
  readonly deliverable: string | undefined;
  readonly width: number;
}

/** What a deliverable shows first of a shot; of one that none shows, all that is recorded as its action starts. */
function litPng(film: Film, { shot: name, deliverable, width }: LitChoice): Uint8Array {
  const shot = name === undefined ? [...film.shots.values()][0] : film.shots.get(name);
  if (!shot) throw new UsageError('There is no shot in this spec to draw.');
  const showing = showingsOf(shot, film).find(
    ({ deliverables }) => deliverable === undefined || deliverables.some((one) => one.name === deliverable),
  );
  if (!showing && deliverable !== undefined)
    throw new UsageError(
      `\`${deliverable}\` shows nothing of \`${shot.name}\`. Without \`--deliverable\` it is drawn as it is seen first, or all that is recorded of it.`,
    );
  const scene = showing ? litShowing(film, showing) : litRecorded(film, shot, shot.handlesS);
  if (!scene)
    throw new UsageError(
      `\`${shot.name}\` can't be drawn as lit: it needs a lens and a sensor, the distance of the camera, and its raster.`,
    );
  return litFile(scene, film, width);
}

/** Other kinds of picture would have to be made from the SVG by a program that this one does not carry. */
function assertSvg(output: string | undefined, isLit: boolean): void {
  const other = /\.(png|jpe?g|gif|webp|avif|bmp|tiff?|pdf|eps|html?)$/i.exec(output ?? '');
  if (!output || !other) return;
  const [svg, png] = ['svg', 'png'].map((kind) => `${output.slice(0, other.index)}.${kind}`);
  const lit = isLit ? ` or \`-o ${png}\`` : '';
  throw new UsageError(
    `Pictures are written as SVG${isLit ? ' or PNG' : ''}, and \`${output}\` would be opened as something else: write \`-o ${svg}\`${lit}. Every ` +
      'browser shows it, prints it and saves it in another form; `shootspec sheet` writes HTML and PDF with all pictures' +
      `${isLit ? '' : ', and `--as lit` a shot with its light as PNG'}.`,
  );
}
