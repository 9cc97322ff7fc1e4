import { bt709CodesInStop, logCodesInStop } from '../../calc/tone.ts';
import { modeWith, ofKit, recordedBits, recordedSpace } from '../../core/derived/recorded.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, stopsText } from '../../core/say.ts';

export default defineRule({
  id: 'tone-steps-too-coarse',
  family: 'colour',
  summary: 'The recording keeps too few steps of tone for what the grade does with them, so smooth tones band.',
  severity: 'warning',
  sources: [
    'ITU-R BT.709-6 (curve and code range), arithmetic',
    'ITU-R BT.2100-3 (HLG and PQ have 10 or 12 bits)',
    'common practice, no source (a log curve spreads about 14 stops evenly)',
  ],
  limits: {
    least: {
      quantity: 'number',
      default: '24',
      meaning: 'The fewest steps of tone, in the stop above middle grey as the grade leaves it.',
    },
  },
  messages: {
    log: '{shot}: log in {bits} bits keeps about {steps} steps of tone in each stop, and a grade pulls them apart: smooth tones will band. bt709 in {bits} bits keeps {display} above middle grey, log in 10 bits {ten}.',
    pushed:
      '{shot}: brightened by {stops} in the grade, middle tones come from a stop with {steps} steps of tone in {bits} bits, where {display} are usual: smooth tones will band. Expose it brighter, or record 10 bits.',
    standard:
      '{shot}: {space} in {bits} bits: its standard (ITU-R BT.2100) has 10 or 12, and in {bits} smooth tones will band. Record 10 bits.',
  },
  shot(shot, { film, limits, report }) {
    const bits = recordedBits(shot);
    const space = recordedSpace(shot);
    if (bits === undefined || space === undefined) return;
    const at = shot.camera.bits ?? shot.camera.colourSpace ?? shot;
    const cause = at === shot ? ofKit(film, `${space} in ${bits}`) : undefined;
    const common = { shot: shot.name, bits };
    const fixes = [...moreBits(shot, film, limits.least), ...displaySpace(shot, film, limits.least)];
    if (space === 'hlg' || space === 'pq') {
      // HLG and PQ always have 10: a kit that leaves `bits` out has not said 8.
      if (bits < 10 && saysBits(shot)) report({ message: 'standard', data: { ...common, space }, at, cause, fixes });
      return;
    }
    const steps = stepsInStop(space, bits, film);
    if (steps >= limits.least - 1e-6) return;
    const data = { ...common, steps: num(steps, 0), display: num(bt709CodesInStop(0, bits), 0) };
    if (space === 'log') {
      report({ message: 'log', data: { ...data, ten: num(logCodesInStop(10), 0) }, at, cause, fixes });
    } else {
      const grade = film.grade?.fields.node('brighten') ?? at;
      const stops = stopsText(film.grade?.brightenStops ?? 0);
      report({ message: 'pushed', data: { ...data, stops }, at: grade, fixes });
    }
  },
});

function saysBits({ camera: { bits, mode } }: Shot): boolean {
  return bits !== undefined || mode?.fields.said('bits') === true;
}

/** Codes in the stop that the grade puts just above middle grey. A log curve has about as many in every stop. */
function stepsInStop(space: string, bits: number, film: Film): number {
  if (space === 'log') return logCodesInStop(bits);
  return bt709CodesInStop(-(film.grade?.brightenStops ?? 0), bits);
}

function moreBits(shot: Shot, film: Film, least: number): FixIdea[] {
  const space = recordedSpace(shot) ?? 'bt709';
  const mode = modeWith(shot, { bits: 10 });
  if (!mode || (space !== 'hlg' && space !== 'pq' && stepsInStop(space, 10, film) < least)) return [];
  const now = shot.camera.mode?.bitrate?.value;
  const price = mode.bitrate && now !== mode.bitrate.value ? ` (${mode.bitrate.text})` : '';
  return [set(`Record 10 bits${price}`, [shot.camera, 'bits', '10'])];
}

/** The curve of the display has more steps where faces and products are, and less room above them. */
function displaySpace(shot: Shot, film: Film, least: number): FixIdea[] {
  const bits = recordedBits(shot)!;
  if (recordedSpace(shot) === 'bt709' || !modeWith(shot, { colourSpace: 'bt709' })) return [];
  if (stepsInStop('bt709', bits, film) < least) return [];
  return [set('Record bt709 (about 2 stops less room for bright tones)', [shot.camera, 'colour-space', 'bt709'])];
}
