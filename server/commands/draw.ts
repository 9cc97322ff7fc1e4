/** `shootspec draw`: one view of a spec as an SVG file. */
import { draw as drawView, pictureText, views } from '../views/index.ts';
import { checkedSpec } from './spec-file.ts';
import { oneOf, parse, print, UsageError } from './usage.ts';
import { writeOutput } from './write.ts';

const example = 'shootspec draw music-box.shoot.yaml --view frame --shot opening -o frame.svg';

export async function draw(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, {
    view: { type: 'string' },
    shot: { type: 'string' },
    deliverable: { type: 'string' },
    output: { type: 'string', short: 'o' },
  });
  const names = views.map((one) => one.name);
  if (values.view === undefined) throw new UsageError(`Say which view, ${names.join(', ')}: \`${example}\`.`);
  const view = oneOf('--view', values.view, names);
  const { result, film } = await checkedSpec(positionals, example);
  const { shot, deliverable } = values;
  if (shot !== undefined) oneOf('--shot', shot, [...film.shots.keys()]);
  if (deliverable !== undefined) oneOf('--deliverable', deliverable, [...film.deliverables.keys()]);
  const picture = drawView(view, result, { shot, deliverable });
  if (!picture) throw new UsageError('There is no shot in this spec to draw.');
  const svg = `${pictureText(picture)}\n`;
  if (values.output === undefined) return print(svg);
  writeOutput(values.output, svg);
  return 0;
}
