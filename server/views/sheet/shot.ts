/** A shot on the sheet: its settings, its movement and its takes. */
import { exposureError, faceLight } from '../../core/derived/light.ts';
import { betweenTakesS } from '../../core/derived/schedule.ts';
import { focusText, frontMarkMm, looksStraightDown } from '../../core/derived/sharp.ts';
import { shutterAngle, shutterSeconds, spareAtEndsS, turningRpm } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { drawFrame } from '../frame/index.ts';
import type { Source } from '../picture.ts';
import { drawSketch, sketchOf } from '../sketch.ts';
import { drawAbove } from '../set/above.ts';
import type { SheetBlock, TableBlock } from './blocks.ts';
import { noteOf } from './notes.ts';
import { third } from './room.ts';
import { aroundSteps } from './steps.ts';
import { asideText, type Common, filled, focalSet, joined, lensHeightText, names, plain, without } from './words.ts';

/**
 * The set is drawn again where more is moved than the camera nearer or farther.
 * @param before the shot before it in the same set-up
 */
export function shotBlocks(
  shot: Shot,
  { first, before }: { first: Shot; before: Shot | undefined },
  film: Film,
  { common, ...source }: Source & { readonly common: Common },
): SheetBlock[] {
  const what = shotWords(shot);
  const facts: SheetBlock = {
    kind: 'facts',
    rows: without([...changeRows(before, shot), ...shotRows(shot, film)], common),
  };
  const frame = drawFrame(source, film, shot, { isRecorded: true }, third);
  const again = standsAs(shot) === standsAs(first) ? [] : [drawAbove(source, film, shot, third)];
  const lit = source.isLit ? [drawFrame(source, film, shot, { isRecorded: true, isLit: true }, third)] : [];
  const sketch = sketchOf(film, shot) ? [drawSketch(source, film, shot, third)] : [];
  const drawn = [...sketch, frame, ...lit, ...again];
  // Three stand side by side.
  const columns = drawn.length < 3 ? drawn.map((one) => [one]) : [drawn.slice(0, 2), drawn.slice(2)];
  const pictures = columns.map((all) => all.map((picture): SheetBlock => ({ kind: 'picture', picture })));
  return [
    { kind: 'heading', level: 3, words: `Shot ${shot.name}` },
    ...(what ? [{ kind: 'text', words: what } as const] : []),
    { kind: 'beside', columns: [[facts], ...pictures], isFirstWide: columns.length === 1 },
    takesTable(shot),
  ];
}

function changeRows(before: Shot | undefined, shot: Shot): (readonly [string, string])[] {
  return filled([['Before it', joined(...(before ? aroundSteps(before, shot) : []))]]);
}

/** What happens in it. */
export function shotWords({ action, fields }: Shot): string {
  const said = [action?.what?.value.trim(), noteOf({ fields })].filter((one): one is string => Boolean(one));
  return said.map((one, index) => (index < said.length - 1 ? stopped(one) : one)).join(' ');
}

/** Where more follows, a sentence ends. */
function stopped(words: string): string {
  return /[.!?…:;,][”"’')]*$/u.test(words) ? words : `${words}.`;
}

/** What to dial in, how it moves and what it shows. */
export function shotFacts(shot: Shot, film: Film): SheetBlock {
  return { kind: 'facts', rows: shotRows(shot, film) };
}

export function shotRows(shot: Shot, film: Film): (readonly [string, string])[] {
  return filled([...settings(shot, film), ...movement(shot, film), ...seen(shot)]);
}

/** More takes than this are written on another page. */
const mostTakes = 40;
const perTake = ['Take', 'Clip', 'Mark', 'Light', 'Focus'];

/** Two takes in a row, with room for what is noted of each by hand. */
function takesTable({ takes, record }: Shot): TableBlock {
  const shown = Math.min(takes, mostTakes);
  const rows = Array.from({ length: Math.ceil(shown / 2) }, (_, index) =>
    [2 * index + 1, 2 * index + 2].flatMap((take) => [take <= shown ? String(take) : '', '', '', '', '']),
  );
  const more = takes > shown ? `, the first ${shown}` : '';
  const caption = `${takes} ${takes === 1 ? 'take' : 'takes'}${record ? ` of ${record.text}` : ''}${more}`;
  return { kind: 'table', caption, head: [...perTake, ...perTake], rows, isForm: true };
}

function standsAs({ camera, lit, backdrop }: Shot): string {
  const { height, angle, slide, supportName } = camera;
  const places = [height, angle, slide, supportName, backdrop?.behind, backdrop?.size].map((val) => val?.text);
  return JSON.stringify([places, lit.map((lamp) => lamp.name)]);
}

function settings(shot: Shot, film: Film): [string, string][] {
  const { camera } = shot;
  const wayUp = camera.wayUp !== 'upright' && plain(camera.wayUp);
  const onMains = camera.runsOn === 'mains' && 'on mains';
  return [
    ['Camera', joined(camera.body?.name, lensWords(shot), camera.supportName?.value, onMains, wayUp)],
    ['Place', cameraPlace(shot)],
    ['Recording', recordingWords(shot)],
    ['Exposure', exposureWords(shot)],
    ['White balance', camera.whiteBalance?.text ?? 'not said'],
    ['Focus', focusWords(shot, film)],
    ['Filters', names(camera.filterNames)],
    ['Stabiliser', camera.stabiliser?.value ?? ''],
    ['Light', lightWords(shot)],
    ['Microphone', shot.microphoneName?.value ?? ''],
  ];
}

/** A zoom with where it is set; how it goes from there stands with the moves. */
function lensWords({ camera }: Shot): string {
  const focal = focalSet(camera);
  const set = focal && focal.value.from === focal.value.to ? focal.text : '';
  return [camera.lens?.name, set].filter(Boolean).join(' at ');
}

function recordingWords(shot: Shot): string {
  const { camera } = shot;
  const { raster, rate, codec, mode, colourSpace } = camera;
  const bits = camera.bits?.text ?? mode?.bits;
  return joined(
    raster?.text,
    shot.interval ? picturesWords(shot) : rate && `${rate.text} frames/s`,
    codec?.value ?? mode?.codec,
    bits && `${bits} bits`,
    colourSpace?.value,
  );
}

/** Whoever sets the camera to a time-lapse sets how often and, on many, how many. */
function picturesWords({ interval, record }: Shot): string {
  const count = record && Math.floor(record.value / interval!.value + 1e-6);
  return `a picture every ${interval!.text}${count ? `, ${say.num(count, 0)} of them` : ''}`;
}

function exposureWords(shot: Shot): string {
  const { aperture, iso } = shot.camera;
  return joined(shutterWords(shot), aperture?.text ?? 'aperture not said', iso ? `ISO ${iso.text}` : 'ISO not said');
}

function cameraPlace(shot: Shot): string {
  const { distance, height, angle, slide } = shot.camera;
  const heightText = lensHeightText(shot);
  return joined(
    distance && `${distance.text} to ${shot.subject.name}`,
    heightText && `lens ${heightText} high${height ? '' : ' (level with it)'}`,
    angle && `at ${angle.text}`,
    slide && slide.value.from === slide.value.to && slide.value.from !== 0 && `${asideText(slide.text)} of its line`,
  );
}

/** The tape goes to the middle of the subject: who focuses on its front is told where that is. */
function focusWords(shot: Shot, film: Film): string {
  const markMm = frontMarkMm(shot, film);
  const face = looksStraightDown(shot) ? 'top' : 'front';
  return joined(shot.camera.focus?.text ?? 'not said', markMm && `the ${face} lies at ${focusText(markMm)}`);
}

function shutterWords(shot: Shot): string {
  const { shutter } = shot.camera;
  const [s, angle] = [shutterSeconds(shot), shutterAngle(shot)];
  if (!shutter) return 'shutter not said';
  const turned = angle === undefined ? '' : ` (${say.angleText(angle, angle >= 100 ? 0 : 1)})`;
  return `${s === undefined ? shutter.text : say.shutterText(s)}${turned}`;
}

function lightWords(shot: Shot): string {
  const light = faceLight(shot, 0);
  const error = exposureError(shot, 0);
  if (!light.complete || light.totalLux <= 0) return '';
  const off =
    error === undefined || Math.abs(error) < say.asPlannedStops
      ? 'as planned'
      : `${say.brighterText(error)} than planned`;
  return joined(`${say.luxText(light.totalLux)} on ${shot.subject.name}`, error !== undefined && off);
}

function movement(shot: Shot, film: Film): [string, string][] {
  return [
    [shot.action?.moves === 'subject' ? 'Subject moves' : 'Camera moves', moveWords(shot)],
    ...turning(shot),
    ['Each take', runWords(shot)],
    ['Between takes', betweenWords(shot, film)],
    ['Uses up', shot.usesUp ? `${shot.usesUp.text} of the product` : ''],
    ['Only after', names(shot.after)],
  ];
}

function moveWords({ camera, action, subject }: Shot): string {
  const changes = [
    ['distance', camera.distance],
    ['height', camera.height],
    ['angle', camera.angle],
    ['slide', camera.slide],
    ['focal length', camera.focal],
  ] as const;
  const moves = changes.flatMap(([name, change]) => {
    if (!change || change.value.from === change.value.to) return [];
    return `${name} ${name === 'slide' ? asideText(change.text) : change.text}`;
  });
  const beside = moves.length > 0 && action?.moves === 'both' && `beside ${subject.name} as it goes`;
  return joined(...moves, beside);
}

/** What only stands turned needs no turntable. */
function turning(shot: Shot): [string, string][] {
  if (!shot.turn) return [];
  const { table, tableName, starts, by, speed } = shot.turn;
  if (turningRpm(shot) === 0 && !tableName) return starts ? [['Product', `turned to ${starts.text}`]] : [];
  const words = joined(
    tableName?.value ?? table?.name,
    starts && `starts at ${starts.text}`,
    by && `turns by ${by.text}`,
    speed && `turns at ${speed.text}`,
  );
  return [[(tableName ?? table) ? 'Turntable' : 'Product', words]];
}

/** What happens from the camera's start to its stop: adds up to what is recorded. */
function runWords(shot: Shot): string {
  const { record, action } = shot;
  const handlesS = spareAtEndsS(shot);
  if (!record) return '';
  const still = (s: Seconds) => (s > 0.05 ? `${say.secondsText(s)} still` : '');
  if (!action?.lasts) return handlesS > 0 ? `${still(handlesS)} at the start and at the end` : '';
  const afterS = Math.max(handlesS, record.value - handlesS - action.lasts.value);
  return joined(still(handlesS), `${action.lasts.text} of action`, still(afterS));
}

/** Nothing where it is the minute that everything takes. */
function betweenWords(shot: Shot, film: Film): string {
  const s = betweenTakesS(shot, film);
  if (shot.takes < 2 || s === usualBetweenS) return '';
  return shot.fields.said('reset') ? (shot.fields.text('reset')?.value ?? '') : say.hoursText(s);
}

const usualBetweenS = 60;

/** The picture says what the cut uses of it. */
function seen({ shows, people }: Shot): [string, string][] {
  return [['Shows', names([...new Map([...shows, ...people].map((one) => [one.value, one])).values()])]];
}
