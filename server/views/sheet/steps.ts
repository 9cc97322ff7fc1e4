/**
 * What is done from one set-up to the next. First what stands behind and under the product, then once round the set from lamp to
 * lamp, then the camera, and the product last, when nobody carries anything over it any more.
 */
import type { LampPlace, Shot, Val } from '../../core/film.ts';
import { along } from '../../core/derived/moments.ts';
import { turningRpm } from '../../core/derived/time.ts';
import { edgeText, lampWords } from './set-up-rows.ts';
import { asideText, focalSet, joined, lensHeightText, names, plain } from './words.ts';

/** A day's shots around a change from one set-up to another, in the order of work. */
export interface Change {
  /** Of all set-ups before; those of the last one are `from`. */
  readonly before: readonly Shot[];
  readonly from: readonly Shot[];
  readonly to: Shot;
  /** From `to` on: what one of them needs in its place is only switched off. */
  readonly later: readonly Shot[];
}

export function stepsOf(change: Change): string[] {
  const [last, { to }] = [change.from.at(-1)!, change];
  return [...aroundSteps(last, to), ...lampSteps(change), ...cameraSteps(last, to), ...productSteps(change)];
}

type Text = Pick<Val<unknown>, 'text'> | undefined;

/** `at 50° (was 45°)`; nothing where both are written alike. */
function moved(was: Text, is: Text, say: (text: string) => string): string {
  if (was?.text === is?.text) return '';
  if (!is) return was ? `no longer ${say(was.text)}` : '';
  return was ? `${say(is.text)} (was ${was.text})` : say(is.text);
}

/** What stands behind and under the product, and the light of the room. */
export function aroundSteps({ backdrop: a, surface: b, room: c }: Shot, { backdrop, surface, room }: Shot): string[] {
  const hung = (one: typeof backdrop) => joined(one?.screenName?.value ?? one?.material?.value, one?.colour?.text);
  const laid = (one: typeof surface) => joined(one?.material?.value, one?.finish, one?.colour?.text);
  const behind = [
    hung(a) !== hung(backdrop) && hung(backdrop) ? `Backdrop: ${hung(backdrop)}` : '',
    label(
      'Backdrop',
      moved(a?.behind, backdrop?.behind, (text) => `${text} behind`),
      moved(a?.bottom, backdrop?.bottom, edgeText),
      moved(a?.brightness, backdrop?.brightness, (text) => `brightness ${text}`),
    ),
  ];
  const steps = [
    ...(backdrop ? behind : [a ? 'Take the backdrop down' : '']),
    laid(b) !== laid(surface) ? (laid(surface) ? `Surface: ${laid(surface)}` : 'Take the surface away') : '',
    label(
      'Room',
      moved(c?.light, room?.light, (text) => `light ${text}`),
    ),
  ];
  return steps.filter(Boolean);
}

function label(name: string, ...parts: readonly string[]): string {
  const words = joined(...parts);
  return words ? `${name}: ${words}` : '';
}

// -- lamps ------------------------------------------------------------------------------------------------------------

function lampSteps({ before, from, to, later }: Change): string[] {
  const stood = new Map(before.flatMap(({ lit }) => lit.map((lamp) => [lamp.origin, lamp] as const)));
  const lately = new Map(from.flatMap(({ lit }) => lit.map((lamp) => [lamp.origin, lamp] as const)));
  const lit = new Set(to.lit.map(({ origin }) => origin));
  const gone = [...lately.values()].filter(({ origin }) => !lit.has(origin));
  const steps = [
    ...gone.map((lamp) => ({ lamp, words: struck(lamp, later) })),
    ...to.lit.map((lamp) => {
      const was = stood.get(lamp.origin);
      const isOff = was !== undefined && !lately.has(lamp.origin);
      return { lamp, words: was ? moves(was, lamp, isOff) : put(lamp) };
    }),
  ];
  return steps
    .filter(({ words }) => words !== '')
    .sort((a, b) => around(a.lamp) - around(b.lamp))
    .map(({ words }) => words);
}

/** Clockwise from the camera; what hangs over the product comes last, as it needs a ladder. */
function around({ angle, held }: LampPlace): number {
  return (held === 'overhead' ? 360 : 0) + ((along(angle?.value, 0) ?? 0) % 360);
}

function struck(lamp: LampPlace, later: readonly Shot[]): string {
  const again = later.find(({ lit }) => lit.some((one) => one.origin === lamp.origin));
  if (!again || isWindow(lamp)) return `${lamp.name}: ${isWindow(lamp) ? 'shut out' : 'take down'}`;
  const stays = again.lit.some((one) => one.name === lamp.name);
  return `${lamp.name}: ${stays ? 'off, and leave it there' : 'off, and out of the way'} (again in ${again.name})`;
}

/** Nobody carries one about. */
function isWindow({ lamp }: LampPlace): boolean {
  return lamp?.kind?.value === 'window';
}

function put(place: LampPlace): string {
  const { name, kitName, distance, angle, height, bouncesName } = place;
  const gear = kitName.value === name || bouncesName ? '' : ` (${kitName.value})`;
  const where = joined(distance?.text, angle && `at ${angle.text}`, height && `${height.text} high`);
  return `${name}${gear}: ${bouncesName ? 'up' : isWindow(place) ? 'let in' : 'on'}, ${joined(where, lampWords(place))}`;
}

function moves(was: LampPlace, is: LampPlace, isOff: boolean): string {
  const modifiers = [names(was.modifierNames), names(is.modifierNames)];
  return label(
    is.name,
    isOff ? 'on again' : '',
    moved(was.distance, is.distance, (text) => text),
    moved(was.angle, is.angle, (text) => `at ${text}`),
    moved(was.height, is.height, (text) => `${text} high`),
    was.held === is.held ? '' : `held by ${is.held}`,
    modifiers[0] === modifiers[1] ? '' : modifiers[1] ? `${modifiers[1]} on` : `${modifiers[0]} off`,
    moved(was.colour ?? was.temperature, is.colour ?? is.temperature, (text) => text),
    moved(was.level, is.level, (text) => text),
  );
}

// -- camera and product ---------------------------------------------------------------------------------------------------

function cameraSteps(from: Shot, to: Shot): string[] {
  const [{ camera: a, subject }, { camera: b, subject: aim }] = [from, to];
  const other = (name: string, was: string | undefined, is: string | undefined) =>
    was === is || !is ? '' : `${name} ${is}${was ? ` (was ${was})` : ''}`;
  const filters = [names(a.filterNames), names(b.filterNames)];
  const mode = ({ camera: one, interval }: Shot) =>
    joined(
      one.raster?.text,
      interval ? `a picture every ${interval.text}` : one.rate && `${one.rate.text} frames/s`,
      one.codec?.value,
      one.bits && `${one.bits.text} bits`,
    );
  const isNearer = a.distance?.text !== b.distance?.text || subject.name !== aim.name;
  const words = label(
    'Camera',
    other('body', a.body?.name, b.body?.name),
    other('on', a.supportName?.value, b.supportName?.value),
    other('lens', a.lens?.name, b.lens?.name),
    focalStep(a, b),
    filters[0] === filters[1] ? '' : filters[1] ? `filters ${filters[1]}` : 'filters off',
    isNearer && b.distance
      ? `${b.distance.text} to ${aim.name}${a.distance ? ` (was ${a.distance.text} to ${subject.name})` : ''}`
      : '',
    moved(lensHeight(from), lensHeight(to), (text) => `lens ${text} high`),
    moved(a.angle, b.angle, (text) => `at ${text}`),
    moved(aside(a.slide), aside(b.slide), (text) => `sliding ${text}`),
    a.wayUp === b.wayUp ? '' : plain(b.wayUp),
    mode(from) === mode(to) ? '' : mode(to),
    moved(a.whiteBalance, b.whiteBalance, (text) => `white balance ${text}`),
  );
  return words ? [words] : [];
}

/** Another lens is set to its own. */
function focalStep(a: Shot['camera'], b: Shot['camera']): string {
  const is = focalSet(b);
  return is ? moved(a.lens === b.lens ? focalSet(a) : undefined, is, (text) => `at ${text}`) : '';
}

function lensHeight(shot: Shot): Text {
  const text = lensHeightText(shot);
  return text === undefined ? undefined : { text };
}

function aside(slide: Text): Text {
  return slide && { text: asideText(slide.text) };
}

function productSteps({ before, from: lately, to, later }: Change): string[] {
  const from = lately.at(-1)!;
  const [stood, is] = [before.flatMap((shot) => tableOf(shot) ?? []).at(-1), tableOf(to)];
  const isDone = lately.some(tableOf) && !later.some(tableOf);
  const words = joined(
    is && is !== stood && `on the turntable ${is}`,
    isDone && 'off the turntable',
    from.turn?.starts && !to.turn?.starts
      ? `its front to 0° (was ${from.turn.starts.text})`
      : moved(from.turn?.starts, to.turn?.starts, (text) => `turned to ${text}`),
  );
  return words ? [`Product: ${words}`] : [];
}

/** The turntable that turns it; what has none in the kit, such as a wheel, is there. */
function tableOf(shot: Shot): string | undefined {
  return turningRpm(shot) === 0 ? undefined : (shot.turn?.tableName?.value ?? shot.turn?.table?.name);
}
