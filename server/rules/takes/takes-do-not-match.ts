import { cctMired } from '../../calc/temperature.ts';
import { luminance, type Rgb } from '../../calc/colour.ts';
import { type DecodedTake, decodedTake, usedInClip } from '../../core/derived/decoded-takes.ts';
import { exposureError } from '../../core/derived/light.ts';
import type { Film, Piece, Shot } from '../../core/film.ts';
import type { Footage } from '../../core/footage.ts';
import { defineRule } from '../../core/rule.ts';
import { brighterText, num, quoted } from '../../core/say.ts';
import { piecesOf, type Sheets } from '../../core/takes.ts';
import type { Mired, Seconds, Stops } from '../../core/units.ts';

export default defineRule({
  id: 'takes-do-not-match',
  family: 'takes',
  summary: 'Two takes of one view that meet in the cut differ in brightness or colour.',
  severity: 'warning',
  sources: [
    'correlated colour temperature after McCamy (1992); 10⁶ ÷ kelvin is mired',
    'what is seen across a cut: common practice, no source',
  ],
  limits: {
    allow: { quantity: 'stops', default: '0.3 stop', meaning: 'How much brighter one may be than the plan says.' },
    colour: { quantity: 'mired', default: '15 mired', meaning: 'How far apart their white may be.' },
  },
  messages: {
    differ:
      '{second} is {differs} than {first}, which it follows in the cut with the same view{planned}. Look for what changed (a lamp, the daylight, a setting left automatic), and match them in the grade or take one again while the product is here.',
  },
  sheet(sheet, { film, sheets, footage, limits, report }) {
    film.cut.forEach((piece, index) => {
      const met = meeting(film.cut[index - 1], piece, { film, sheets, footage });
      if (!met) return;
      const { before, after } = met;
      // Of two sheets, that says it which has the second take.
      if (after.found.take.sheet !== sheet) return;
      const stops = stopsOf(before.light, after.light) - met.plannedStops;
      const [one, other] = [cctMired(before.light), cctMired(after.light)];
      const warmer = one !== undefined && other !== undefined ? other - one : 0;
      const [isLight, isColour] = [Math.abs(stops) > limits.allow, Math.abs(warmer) > limits.colour];
      if (!isLight && !isColour) return;
      report({
        message: 'differ',
        data: {
          first: quoted(before.found.clip.text),
          second: quoted(after.found.clip.text),
          differs: [...(isLight ? [brighterText(stops)] : []), ...(isColour ? [warmerText(warmer)] : [])].join(' and '),
          planned: met.plannedStops === 0 ? '' : ` (${brighterText(met.plannedStops)} is planned and taken off)`,
        },
        at: after.found.clip,
        excess: Math.max(Math.abs(stops) / limits.allow, Math.abs(warmer) / limits.colour),
        related: [{ start: piece.start, end: piece.end, file: film.fields.file, message: 'where they meet' }],
      });
    });
  },
});

interface Side {
  readonly found: DecodedTake;
  readonly light: Rgb;
}

interface Known {
  readonly film: Film;
  readonly sheets: Sheets;
  readonly footage: Footage | undefined;
}

/** Two different takes of one view on either side of a plain cut, with the light of the half seconds that meet. */
function meeting(
  one: Piece | undefined,
  other: Piece,
  known: Known,
): { before: Side; after: Side; plannedStops: Stops } | undefined {
  if (!one?.shot || !other.shot || !isOneView(one.shot, other.shot)) return undefined;
  if (other.dissolveS > 0 || one.fadeOutS > 0 || other.fadeInS > 0) return undefined;
  const before = sideOf(one, 'to', known);
  const after = sideOf(other, 'from', known);
  if (!before || !after || before.found.clip.value === after.found.clip.value) return undefined;
  return { before, after, plannedStops: plannedStops(before, after) };
}

function sideOf(piece: Piece, end: 'from' | 'to', { film, sheets, footage }: Known): Side | undefined {
  const takes = sheets.flatMap((sheet) => sheet.takes.filter((take) => piecesOf(take).includes(piece)));
  const take = takes.find(({ judged }) => judged?.value === 'best');
  const found = take && decodedTake(take, footage);
  const used = take && usedInClip(take, piece, film);
  // Of a log curve the light is not known.
  if (!found?.decoded.picture || !used || take.asSet?.camera.colourSpace?.value !== 'bt709') return undefined;
  const light = lightAt(found.decoded.picture.light, end === 'from' ? used.from : used.to - 0.5);
  return light && { found, light };
}

function lightAt(halfSeconds: readonly (readonly [number, number, number])[], atS: Seconds): Rgb | undefined {
  const [r, g, b] = halfSeconds[Math.round(atS * 2)] ?? [];
  return r === undefined || g === undefined || b === undefined ? undefined : { r, g, b };
}

/** Seen from one place with one lens: all that stands in the picture is the same. */
function isOneView(one: Shot, other: Shot): boolean {
  if (one === other) return true;
  const view = ({ camera, subject, turn, setUp, backdrop }: Shot) =>
    JSON.stringify([
      subject.name,
      setUp?.name,
      backdrop?.start,
      turn?.starts?.value,
      ...[camera.distance, camera.height, camera.angle, camera.slide, camera.focal].map((value) => value?.value),
      camera.lensName?.value,
    ]);
  return !one.turn?.by && !one.turn?.speed && view(one) === view(other);
}

function stopsOf(before: Rgb, after: Rgb): Stops {
  return Math.log2(Math.max(1e-4, luminance(after)) / Math.max(1e-4, luminance(before)));
}

/** How much brighter lamps and settings make the second, as planned and as set. */
function plannedStops({ found: before }: Side, { found: after }: Side): Stops {
  const [one, other] = [before.take.asSet, after.take.asSet];
  if (!one || !other || one === other) return 0;
  const [first, second] = [exposureError(one, 1), exposureError(other, 0)];
  return first === undefined || second === undefined ? 0 : Math.round((second - first) * 10) / 10;
}

function warmerText(by: Mired): string {
  return `${num(Math.abs(by), 0)} mired ${by > 0 ? 'warmer' : 'cooler'}`;
}
