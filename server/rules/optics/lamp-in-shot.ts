import { angleBetweenDeg, dot, fromCamera, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { hungBackdrop, hides, isKeptBehind } from '../../core/derived/past-backdrop.ts';
import { isKeptOff, lampPosition } from '../../core/derived/light.ts';
import { once } from '../../core/memo.ts';
import { poseInSet, productPlace, subjectPlace } from '../../core/derived/optics.ts';
import { lampStand } from '../../core/derived/backdrop-light.ts';
import { cameraMoves } from '../../core/derived/time.ts';
import { outlineOf, subjectCorners } from '../../core/derived/outline.ts';
import { looksOf, showingsOf, still } from '../../core/derived/showings.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, brighterText, lengthText, listText, percentText, quoted } from '../../core/say.ts';
import type { Degrees, Mm, Share } from '../../core/units.ts';
import { deliverablesText } from '../framing/framing-text.ts';
import { sideText } from './side-text.ts';
import { standSeen } from './stand-seen.ts';
import { type Gap, hasRoomAt, isBuiltIn, isSeen, type Near, nearest } from './lamp-clearance.ts';
import { isWindow, lampSides, lampSize } from '../../core/derived/lamp-size.ts';

/** Room that a fix leaves between lamp and picture. */
const spareDeg = 5;

export default defineRule({
  id: 'lamp-in-shot',
  family: 'optics',
  summary: 'A lamp or its stand is in the picture, or it shines into the lens from just outside it.',
  severity: 'warning',
  sources: ['geometry', 'common practice, no source (flare from lamps within about 10° of the picture)'],
  limits: {
    flare: {
      quantity: 'angle',
      default: '11°',
      meaning: 'A lamp behind the product that faces the lens is mentioned when it is nearer to the picture than this.',
    },
    dark: {
      quantity: 'angle',
      default: '17°',
      meaning: 'The same before a backdrop that comes out black, where a veil is seen most.',
    },
  },
  messages: {
    seen: '{shot}: {lamp} is in the picture of {deliverables}, by {by}. {way}.',
    beyond:
      '{shot}: {lamp} is {distance} from the product, in the wall on that side, and the camera would stand {by} behind that wall. Film from nearer or from another side, or measure the window again.',
    stand:
      '{shot}: the stand of {lamp} is in the picture of {deliverables}, {inside} of the width inside its {side} edge, from {low} to {high} above the surface. {way} what else holds the lamp: a `clamp` where something is near enough, or a `boom` or `overhead` with a second hold (`overhead-bond`).',
    flare:
      '{shot}: {lamp} shines towards the lens from {by} outside the picture of {deliverables}: expect flare and a veil over the blacks. Put a flag between them, and say `kept-off: lens`.',
  },
  shot(shot, { film, limits, report }) {
    const isDark = shot.backdrop?.tone?.value === 'black';
    const flareDeg = isDark ? Math.max(limits.dark, limits.flare) : limits.flare;
    for (const lamp of shot.lit) {
      if (!isSource(lamp) || isOwn(lamp, shot, film)) continue;
      const stand = standReport(shot, film, lamp);
      if (stand) report(stand);
      const found = nearestAnyhow(shot, film, lamp, mayFlare(shot, lamp) ? flareDeg : 0);
      if (!found || found.clearDeg >= flareDeg || isBackdrop(lamp, found)) continue;
      const told = { lamp, found, flareDeg };
      const beyond = isSeen(found, lamp) ? beyondReport(shot, told) : undefined;
      if (beyond) report(beyond);
      else if (isSeen(found, lamp)) report(seenReport(shot, film, told));
      else if (flares(shot, film, told)) report(flareReport(shot, told));
    }
  },
});

/** Who stands a thing before a window films the two together. */
function isBackdrop(lamp: LampPlace, { pose, place, target }: Near): boolean {
  return isWindow(lamp) && angleBetweenDeg(pose.forward, subtract(place, target)) < behindDeg;
}

const behindDeg: Degrees = 45;

interface Told {
  readonly lamp: LampPlace;
  readonly found: Near;
  readonly flareDeg: Degrees;
}

function seenReport(shot: Shot, film: Film, told: Told) {
  const { lamp, found } = told;
  const isTold = (gap: Gap) => isSeen(gap, lamp);
  const data = { ...dataOf(shot, told, isTold), by: angleText(Math.abs(found.clearDeg)) };
  const out = wayOut(shot, film, lamp, data);
  const common = { message: 'seen' as const, ...out, ...placeOf(told, 'seen') };
  if (!lamp.bounces || !found.gaps.every(isSliver)) return common;
  return { ...common, severity: 'hint' as const, data: { ...out.data, way: 'Push it aside until none of it is seen' } };
}

/** Not where it is shaded or hidden; and what is in the picture of another shot is moved anyway, by as much as a fix leaves at least. */
function flares(shot: Shot, film: Film, { lamp, found }: Told): boolean {
  if (isShaded(lamp) || !facesLens(lamp, found) || isHidden(shot, film, found.place)) return false;
  return found.clearDeg <= spareDeg || !lampsSeen(film).has(lamp.origin);
}

function flareReport(shot: Shot, told: Told) {
  const { lamp, found, flareDeg } = told;
  const by = found.clearDeg < 0.5 ? 'just' : angleText(found.clearDeg);
  const fixes = () => [flagged(lamp)];
  return {
    message: 'flare' as const,
    data: { ...dataOf(shot, told, ({ clearDeg }) => clearDeg < flareDeg), by },
    severity: 'hint' as const,
    fixes,
    ...placeOf(told, 'flare'),
  };
}

/** @param isTold of which pictures it is said */
function dataOf(shot: Shot, { lamp, found }: Told, isTold: (gap: Gap) => boolean) {
  const deliverables = found.gaps.filter(isTold).flatMap(({ showing }) => showing.deliverables);
  return { shot: shot.name, lamp: quoted(lamp.name), deliverables: deliverablesText({ deliverables }) };
}

function placeOf({ lamp, found, flareDeg }: Told, as: 'seen' | 'flare') {
  return {
    at: lamp.angle ?? lamp,
    excess: flareDeg - found.clearDeg,
    cause: { start: lamp.start, end: lamp.end, as },
  };
}

/** A place by the wall is not measured better. */
const leastBehind: Mm = 50;

function beyondReport(shot: Shot, { lamp, found }: Told) {
  const beyondMm = behindWallMm(lamp, found);
  if (beyondMm <= leastBehind) return undefined;
  const distance = lamp.distance!.text;
  return {
    message: 'beyond' as const,
    data: { shot: shot.name, lamp: quoted(lamp.name), distance, by: lengthText(beyondMm) },
    at: shot.camera.distance ?? shot,
    excess: beyondMm,
    cause: { start: lamp.start, end: lamp.end, as: 'beyond' },
  };
}

/** How far the camera is behind the wall that a window is in, which looks towards the product; minus: in the room. */
function behindWallMm(lamp: LampPlace, { place, pose, target }: Near): Mm {
  const way = { ...subtract(place, target), y: 0 };
  const farMm = lengthOf(way);
  return isWindow(lamp) && lamp.distance && farMm > 0 ? dot(subtract(pose.at, place), way) / farMm : -Infinity;
}

/** The lamps, by where they first stood, that are in the picture of some shot. */
const lampsSeen = once((film: Film): ReadonlySet<string> => {
  const seen = new Set<string>();
  for (const shot of film.shots.values()) {
    for (const lamp of shot.lit) {
      const found = isSource(lamp) && nearestAnyhow(shot, film, lamp, 0);
      if (found && isSeen(found, lamp)) seen.add(lamp.origin);
    }
  }
  return seen;
});

/** Of a card so much is a hint: whoever looks through the camera pushes it aside with a finger (common practice, no source). */
const sliver: Share = 0.06;

function isSliver({ clearDeg, fieldDeg }: Gap): boolean {
  return -clearDeg <= sliver * fieldDeg;
}

/**
 * How near it comes to the pictures that it is no farther from than that. A board of which no height is said stands on what is
 * there, leans, or is held as high as the product: of these places that where it is least in the picture counts, so that nothing
 * is said which a guess decides.
 */
function nearestAnyhow(shot: Shot, film: Film, lamp: LampPlace, withinDeg: Degrees): Near | undefined {
  const planned = nearest(shot, film, lamp, { withinDeg });
  if (!lamp.bounces || lamp.height || !planned) return planned;
  const product = productPlace(shot);
  const { levelMm, uprightMm } = lampSides(lamp);
  const others = [levelMm / 2, uprightMm / 2, product.y - uprightMm / 2, product.y + uprightMm / 2]
    .map((mm) => ({ ...lamp, height: still(Math.max(0, mm)) }))
    .filter((other) => lampPosition(other, product, 0))
    .map((other) => nearest(shot, film, other, { withinDeg }));
  const found = others.filter((one) => one !== undefined);
  if (found.length < others.length) return undefined;
  return found.reduce((most, one) => (one.clearDeg > most.clearDeg ? one : most), planned);
}

/** The product's own light, where the shot has it at its beginning. */
function isOwn(lamp: LampPlace, shot: Shot, film: Film): boolean {
  const at = lampPosition(lamp, productPlace(shot), 0);
  return at !== undefined && isBuiltIn(lamp, at, film, shot);
}

/** One that is not meant to be seen. */
function isSource(lamp: LampPlace): boolean {
  return lamp.role?.value !== 'practical';
}

/** A flag keeps it off the lens, or it is turned away; or it is a card, which gives back what the product gets too. */
function isShaded(lamp: LampPlace): boolean {
  return lamp.bounces !== undefined || lamp.aim === 'backdrop' || isKeptOff(lamp, 'lens');
}

function flagged(lamp: LampPlace): FixIdea {
  const from = [...lamp.keptOff.map(({ value }) => value), 'lens'];
  const text = from.length > 1 ? `[${from.join(', ')}]` : 'lens';
  return set(`Say that a flag keeps ${quoted(lamp.name)} off the lens`, [lamp, 'kept-off', text]);
}

/** What stands behind the backdrop has to be moved anyway, and has a finding of its own. */
function isHidden(shot: Shot, film: Film, place: Vec3): boolean {
  const hung = hungBackdrop(shot, film);
  return hung !== undefined && hides(hung, place, productPlace(shot));
}

/** Could it shine into the lens? Of one that does not, only what is in the picture counts. Where something goes, it depends on the moment. */
function mayFlare(shot: Shot, lamp: LampPlace): boolean {
  if (isShaded(lamp)) return false;
  if (lamp.changes || cameraMoves(shot)) return true;
  const [place, pose] = [lampStand(lamp, shot, 0), poseInSet(shot, 0)];
  return !!place && !!pose && facesLens(lamp, { place, pose, target: subjectPlace(shot) });
}

/** Does it stand behind the product with its beam reaching the lens? */
function facesLens(lamp: LampPlace, { place, pose, target }: Pick<Near, 'place' | 'pose' | 'target'>): boolean {
  if (fromCamera(pose, place).along < fromCamera(pose, target).along) return false;
  const off = angleBetweenDeg(subtract(target, place), subtract(pose.at, place));
  return off < (lampSize(lamp).beamDeg ?? 120) / 2;
}

function standReport(shot: Shot, film: Film, lamp: LampPlace) {
  const stand = standSeen(shot, film, lamp);
  if (!stand || lampsSeen(film).has(lamp.origin)) return undefined;
  const aside = standAside(shot, film, lamp);
  return {
    message: 'stand' as const,
    data: {
      shot: shot.name,
      lamp: quoted(lamp.name),
      deliverables: deliverablesText(stand),
      inside: percentText(stand.inside),
      side: stand.side,
      low: lengthText(stand.seen.from),
      high: lengthText(stand.seen.to),
      way: aside.length > 0 ? 'Move it aside, or say with `held`' : 'Say with `held`',
    },
    at: lamp.angle ?? lamp,
    severity: lamp.fields.said('held') ? undefined : ('info' as const),
    excess: stand.inside,
    cause: { start: lamp.start, end: lamp.end, as: 'stand' },
    fixes: aside,
  };
}

/** As little as this a lamp is turned for its stand, and its light stays much as it was. */
const littleDeg = [5, 10, 15];

function standAside(shot: Shot, film: Film, lamp: LampPlace): FixIdea[] {
  const { angle } = lamp;
  if (!angle || lamp.changes) return [];
  for (const step of littleDeg.flatMap((by) => [-by, by])) {
    const now = (((angle.value.from + step) % 360) + 360) % 360;
    const tried = { ...lamp, angle: { ...angle, value: { from: now, to: now } } };
    if (standSeen(shot, film, tried, 0)) continue;
    if ((nearest(shot, film, tried, { all: true })?.clearDeg ?? spareDeg) < spareDeg) continue;
    const text = sideText(angle, now);
    return [set(`Set angle of ${quoted(lamp.name)} to ${text} (its stand out of the picture)`, [lamp, 'angle', text])];
  }
  return [];
}

/** What takes it out of the picture: its words, and its fix. */
function wayOut<D extends object>(shot: Shot, film: Film, lamp: LampPlace, data: D) {
  const zoom = hasRoomToZoom(shot, film, lamp) ? ', or zoom in' : '';
  if (lamp.changes) return { data: { ...data, way: `Let it move elsewhere${zoom}` } };
  if (isWindow(lamp)) {
    const way = `A window stands where it is: film from another side${zoom}, or say \`role: practical\` where it may be seen`;
    return { data: { ...data, way } };
  }
  // One place for all shots that it is in the picture of.
  const mendCause = (shots: readonly Shot[]) => [...turned(shots, film, lamp), ...raised(shots, film, lamp)];
  const [aside, up] = [turned([shot], film, lamp), raised([shot], film, lamp)];
  const move = listText([...(aside.length > 0 ? ['aside'] : []), ...(up.length > 0 ? ['up'] : [])], 'or');
  if (move) return { data: { ...data, way: `Move it ${move}${zoom}` }, fixes: [...aside, ...up], mendCause };
  const fixes = farther(shot, film, lamp);
  const way =
    fixes.length > 0
      ? 'Move it farther off'
      : 'Moved round it stays in the picture: film from nearer, or from another side';
  return { data: { ...data, way: way + zoom }, fixes };
}

/** How much is zoomed in without another picture coming of it. */
const zooms = [1.1, 1.2, 1.3];

/** Is there a zoom that leaves the lamp out and all of the subject in? */
function hasRoomToZoom(shot: Shot, film: Film, lamp: LampPlace): boolean {
  return zooms.some((by) => {
    const zoomed = { ...shot };
    const pieces = shot.pieces.map((piece) => {
      return { ...piece, shot: zoomed, zoom: { from: piece.zoom.from * by, to: piece.zoom.to * by } };
    });
    Object.assign(zoomed, { pieces });
    if (pieces.length === 0 || (nearest(zoomed, film, lamp, { all: true })?.clearDeg ?? 0) < -1e-6) return false;
    return looksOf(showingsOf(zoomed, film)).every(({ view: { edges }, pose, turn }) => {
      const points = subjectCorners(zoomed, film, turn);
      if (!edges || !points) return true;
      const { left, right, bottom, top } = outlineOf(pose, points);
      return left >= edges.left && right <= edges.right && bottom >= edges.bottom && top <= edges.top;
    });
  });
}

/** Where no angle does, the least distance; twice as far its light is a quarter, and it is another lamp that is wanted. */
function farther(shot: Shot, film: Film, lamp: LampPlace): FixIdea[] {
  const now = lamp.distance?.value.from;
  if (now === undefined) return [];
  for (let times = 1.1; times < 2; times += 0.1) {
    const cm = Math.ceil((now * times) / 10);
    const there = nearest(shot, film, { ...lamp, distance: still(cm * 10) }, { all: true });
    if ((there && there.clearDeg < spareDeg) || !hasRoomAt(film, lamp, cm * 10)) continue;
    const title = `Move ${quoted(lamp.name)} to ${cm} cm (out of the picture, its light ${brighterText(-2 * Math.log2((cm * 10) / now))})`;
    return [set(title, [lamp, 'distance', `${cm} cm`])];
  }
  return [];
}

/** Turned farther round, what lights or fills the front models something else, and no edge is lit (common practice, no source). */
function mostTurnDeg({ role }: LampPlace): number {
  if (role?.value === 'rim') return 40;
  return role?.value === 'key' || role?.value === 'fill' ? 30 : 90;
}

/** The least change of its angle that leaves some room in all shots; and where that is much, the least that takes it out at all. */
function turned(shots: readonly Shot[], film: Film, lamp: LampPlace): FixIdea[] {
  const { angle } = lamp;
  if (!angle || lamp.changes) return [];
  const gapDeg = (now: Degrees) => clearIn(shots, film, { ...lamp, angle: { ...angle, value: still(now).value } });
  const clearing = (leastDeg: Degrees) => turns(lamp).find((now) => gapDeg(now) >= leastDeg);
  return [...new Set([clearing(spareDeg), clearing(justDeg)])].flatMap((now) => {
    if (now === undefined) return [];
    const [text, by] = [sideText(angle, now), gapDeg(now)];
    const out = by < 90 ? `${angleText(by, 0)} out of the picture` : 'out of the picture';
    return [set(`Set angle of ${quoted(lamp.name)} to ${text} (${out})`, [lamp, 'angle', text])];
  });
}

/** How far from the picture of each shot it would be; not at all where the backdrop would keep its light off the product. */
function clearIn(shots: readonly Shot[], film: Film, tried: LampPlace): Degrees {
  return Math.min(
    ...shots.map((shot) => {
      const at = lampPosition(tried, productPlace(shot), 0);
      if (!at || isKeptBehind(at, shot)) return -Infinity;
      return nearest(shot, film, tried, { all: true })?.clearDeg ?? Infinity;
    }),
  );
}

/** Farther up it is a light from above (common practice, no source). */
const mostRiseDeg: Degrees = 20;

/** The least height above its own, at its distance, that leaves some room in all shots. */
function raised(shots: readonly Shot[], film: Film, lamp: LampPlace): FixIdea[] {
  const { height, distance } = lamp;
  const middle = productPlace(shots[0]!);
  const at = lampPosition(lamp, middle, 0);
  if (!height || !distance || !at || lamp.changes || lamp.bounces) return [];
  for (let mm = Math.ceil((height.value.from + 1) / 50) * 50; mm - middle.y < distance.value.from; mm += 50) {
    const tried = { ...lamp, height: still(mm) };
    const there = lampPosition(tried, middle, 0);
    if (!there || angleBetweenDeg(subtract(at, middle), subtract(there, middle)) > mostRiseDeg) return [];
    const by = clearIn(shots, film, tried);
    if (by < spareDeg) continue;
    if (shots.some((shot) => standSeen(shot, film, tried, 0))) return [];
    const [text, out] = [`${mm / 10} cm`, by < 90 ? `${angleText(by, 0)} out of the picture` : 'out of the picture'];
    return [set(`Set height of ${quoted(lamp.name)} to ${text} (${out})`, [lamp, 'height', text])];
  }
  return [];
}

/** What one sees on the screen, and nudges on the set. */
const justDeg: Degrees = 1;

/** Angles to try, the least turn first. */
function turns(lamp: LampPlace): Degrees[] {
  const steps = Array.from({ length: mostTurnDeg(lamp) / 5 }, (_, index) => 5 * (index + 1));
  return steps.flatMap((step) => [-step, step].map((by) => (lamp.angle!.value.from + by + 360) % 360));
}
