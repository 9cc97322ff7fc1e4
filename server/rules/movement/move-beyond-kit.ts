import { lengthOf, subtract } from '../../calc/geometry.ts';
import { cameraPose, poseInSet } from '../../core/derived/optics.ts';
import { isOnSurface, surfaceOutline } from '../../core/derived/surface-outline.ts';
import { endsAtS, startsAtS, turningRpm } from '../../core/derived/time.ts';
import type { Film, Shot, Support } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { lensHeightMm } from '../../core/derived/moments.ts';
import { onSameSurface } from '../../core/derived/surface-outline.ts';
import { type Context, defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';
import type { Ends, Mm, MmPerSecond, Seconds } from '../../core/units.ts';
import { inTable, offTable } from './off-table.ts';
import { shorterSlide, speedText } from './movement-fixes.ts';

const messages = {
  stands:
    '{shot}: {move} moves the camera, and {support} has no travel in the kit: it stands still. Use a support that travels, say its `travel` there, or let the camera stand.',
  far: '{shot}: {move} is {way}, and {support} travels {travel}. Make the move shorter.',
  runUp:
    '{shot}: {move} is {way}, and coming up to {speed} and stopping takes {runUp} more; {support} travels {travel}. Make the move shorter, or slower.',
  fast: '{shot}: {move} in {time} is {speed}; {support} goes no faster than {most}. Give it more time, or a shorter way.',
  slow: '{shot}: {move} in {time} is {speed}; {support} goes no slower than {least}. Give it less time, or a longer way.',
  high: '{shot}: the lens stands {lens} above the surface, {height} above the floor; {support} holds it between {least} and {most}.',
  low: '{shot}: {support} stands on {what} and holds the lens between {least} and {most} above it; it would be at {lens}.',
  off: '{shot}: {support} stands on the table, and the lens is {away} {way} the middle of the product. The table is {size}{placed}: the camera stands in the air. Go nearer, stand it on the floor, or say `above-table` where that is a board on a larger table.',
  in: '{shot}: {support} stands on the floor, and its camera would be {by} past the front edge, over the table, which begins {front} before the product. Stand the product nearer to that edge, or hold the camera with an arm that reaches so far (`reach` in the kit).',
  inMiddle:
    '{shot}: {support} stands on the floor, and nothing says where on {size} the product stands. In the middle, its camera would be {by} past the front edge, over the table. Stand the product at most {most} behind that edge and say so (`front`), or hold the camera with an arm that reaches so far (`reach` in the kit).',
  turnsFast: '{shot}: {table} turns no faster than {most}, and {rpm} is planned.',
  turnsSlow: '{shot}: {table} turns no slower than {least}, and {rpm} is planned.',
} as const;

const limits = {
  'run-up': {
    quantity: 'real-time',
    default: '1 s',
    meaning: 'Time at full speed that starting and stopping cost together, in travel.',
  },
} as const;

type Ctx = Context<typeof messages, typeof limits>;

export default defineRule({
  id: 'move-beyond-kit',
  family: 'movement',
  summary: 'The move is longer, faster, slower or higher than the support or the turntable can do.',
  severity: 'error',
  sources: ['the kit', 'common practice, no source (a second of travel for starting and stopping)'],
  limits,
  messages,
  shot(shot, context) {
    checkTravel(shot, context);
    checkHeight(shot, context);
    checkTable(shot, context);
    checkFloor(shot, context);
    checkTurntable(shot, context);
  },
});

/** Straight from where the camera starts to where it ends; 0 when it stands still. */
function wayMm(shot: Shot): Mm {
  const start = poseInSet(shot, 0);
  const end = poseInSet(shot, 1);
  return start && end ? lengthOf(subtract(end.at, start.at)) : 0;
}

/** The change that moves the camera most; all others go with it. */
function moveOf({ camera }: Shot) {
  const moves = [camera.slide, camera.distance, camera.angle, camera.height];
  return moves.find((one) => one && one.value.from !== one.value.to);
}

/**
 * Does the subject go, and the camera stand? As the shot says; else where nothing could carry the camera, and the focus
 * follows what comes nearer or goes away.
 */
function subjectMoves({ action, camera }: Shot): boolean {
  if (action?.moves === 'subject') return true;
  const changes = [camera.slide, camera.angle, camera.height].some((one) => one && one.value.from !== one.value.to);
  return !changes && camera.focus?.value === 'follow' && action?.what !== undefined && !camera.support?.travel;
}

/** A support that a hand carries goes where the hand goes. */
function standing({ camera: { support } }: Shot): Support | undefined {
  return support?.standsOn === 'hand' ? undefined : support;
}

/** Kits state paces in round numbers, and nobody times a move more exactly (common practice, no source). */
const paceTolerance = 0.03;

/** The slowest and the fastest that it goes. */
function paceOf({ speed }: Support): number[] {
  return speed ? [speed.value.from, speed.value.to].sort((a, b) => a - b) : [];
}

function checkTravel(shot: Shot, { film, limits: { 'run-up': runUpS }, report }: Ctx): void {
  const support = standing(shot);
  const way = subjectMoves(shot) ? 0 : wayMm(shot);
  const move = way < 0.5 ? undefined : moveOf(shot);
  if (!support || !move) return;
  const data = {
    shot: shot.name,
    move: moveName(shot, move.text),
    support: quoted(support.name),
    way: lengthText(way),
  };
  const related = [{ start: support.start, end: support.end, file: support.file, message: 'as the kit says' }];
  const common = { at: move, related };
  if (!support.travel) {
    if (!support.fields.said('travel'))
      report({
        message: 'stands',
        severity: gravityOf(way),
        data,
        ...common,
        fixes: () => otherSupport(shot, film, way),
      });
    return;
  }
  // One finding, of what is most wrong; its fix mends all.
  const { travel } = support;
  const speed = shot.actionS ? way / shot.actionS : 0;
  const more = runUpMm(shot, speed, runUpS);
  const [least, most] = paceOf(support);
  const part = Math.min(travel.value / (way + more), (most ?? Infinity) / speed);
  const fixes = () => [...shorter(shot, part), ...otherSupport(shot, film, way + more)];
  const told = {
    ...data,
    travel: travel.text,
    runUp: lengthText(more),
    time: `${num(shot.actionS ?? 0, 1)} s`,
    speed: speedText(speed),
    least: speedText(least ?? 0),
    most: speedText(most ?? 0),
  };
  if (way > travel.value * (1 + 1e-6))
    report({ message: 'far', data: told, excess: way / travel.value, ...common, fixes });
  else if (most !== undefined && speed > most * (1 + paceTolerance))
    report({ message: 'fast', data: told, excess: speed / most, ...common, fixes });
  else if (way + more > travel.value * (1 + 1e-6))
    report({
      message: 'runUp',
      severity: 'warning',
      data: told,
      excess: (way + more) / travel.value,
      ...common,
      fixes,
    });
  else if (least !== undefined && least !== most && speed > 0 && speed < least * (1 - paceTolerance))
    report({ message: 'slow', data: told, excess: least / speed, ...common });
}

/** What starting and stopping take; nothing where the cut leaves out the ends of the move, in which they happen. */
function runUpMm({ pieces, handlesS, actionS = 0 }: Shot, speed: MmPerSecond, runUpS: Seconds): Mm {
  const [from, to] = [handlesS + runUpS / 2, handlesS + actionS - runUpS / 2];
  const all = pieces.flatMap((piece) => [startsAtS(piece), endsAtS(piece)]);
  const isLeftOut = all.length > 0 && all.every((takeS) => takeS >= from - 1e-6 && takeS <= to + 1e-6);
  return isLeftOut ? 0 : speed * runUpS;
}

/** A few centimetres are done by hand, on a plate that no kit lists. */
function gravityOf(way: Mm): 'info' | undefined {
  return way <= byHandMm ? 'info' : undefined;
}

const byHandMm: Mm = 100;

function moveName({ camera }: Shot, text: string): string {
  const named = { slide: 'the slide', distance: 'the way', angle: 'the way round', height: 'the lift' } as const;
  const key = (['slide', 'distance', 'angle', 'height'] as const).find(
    (one) => camera[one] && camera[one].value.from !== camera[one].value.to,
  );
  return `${key ? named[key] : 'the move'} from ${text}`;
}

/** Only a slide by itself is shortened: its way is its number. */
function shorter(shot: Shot, part: number): FixIdea[] {
  const { distance, angle, height } = shot.camera;
  const others = [distance, angle, height].some((one) => one && one.value.from !== one.value.to);
  return others ? [] : shorterSlide(shot, part);
}

/** Supports of the kit that travel far and fast enough, hold the camera and reach its height. */
function otherSupport(shot: Shot, film: Film, way: Mm, known?: 'of known height'): FixIdea[] {
  const { body, lens, support: now } = shot.camera;
  const grams = (body?.weight?.value ?? 0) + (lens?.weight?.value ?? 0);
  const speed = shot.actionS ? way / shot.actionS : 0;
  return [...film.kit.supports.values()]
    .filter((one) => one !== now && fits(one, body?.name))
    .filter((one) => (one.travel?.value ?? 0) >= way && (one.speed?.value.to ?? Infinity) >= speed)
    .filter((one) => (one.load?.value ?? Infinity) >= grams && outsideHeight(shot, one) === undefined)
    .filter((one) => !known || one.height)
    .slice(0, 1)
    .map((one) => set(`Use ${quoted(one.name)}`, [shot.camera, 'support', one.name]));
}

/** As the kit says; else what does not reach up to the surface, or no higher than a shin: a rail, a bean bag, a table tripod. */
function standsOnSurface(shot: Shot, { height, standsOn }: Support): boolean {
  if (standsOn) return standsOn === 'table';
  return height !== undefined && height.value.to <= Math.max(shinMm, shot.surface?.height?.value ?? 0);
}

const shinMm: Mm = 600;

/**
 * How high the surface is above the feet of the support; undefined where nobody said. A rail whose lens is beyond the edge
 * of the surface, before a plinth or a small board, stands on something lower.
 */
function surfaceAboveFeet(shot: Shot, support: Support): Mm | undefined {
  const { surface } = shot;
  if (!standsOnSurface(shot, support)) return surface?.height?.value;
  if (surface && surface.aboveTableMm > 0) return surface.aboveTableMm;
  return isBesideSurface(shot) ? undefined : 0;
}

function isBesideSurface(shot: Shot): boolean {
  const outline = surfaceOutline(shot);
  const at = cameraPose(shot, 0)?.at;
  return outline !== undefined && at !== undefined && !isOnSurface(outline, at);
}

/** The lens above the feet of its support at its lowest and highest; undefined where the surface's height would tell. */
function lensAboveFeet(shot: Shot, support: Support): Ends<Mm> | undefined {
  const surface = surfaceAboveFeet(shot, support);
  if (surface === undefined) return undefined;
  const a = surface + lensHeightMm(shot, 0);
  const b = surface + lensHeightMm(shot, 1);
  return { from: Math.min(a, b), to: Math.max(a, b) };
}

/** The height that is out of reach; half a millimetre is forgiven. */
function outsideHeight(shot: Shot, support: Support): Mm | undefined {
  const { height } = support;
  const lens = lensAboveFeet(shot, support);
  if (!lens || !height) return undefined;
  if (lens.from < height.value.from - 0.5) return lens.from;
  return lens.to > height.value.to + 0.5 ? lens.to : undefined;
}

function checkHeight(shot: Shot, { report, film }: Ctx): void {
  const { height } = shot.camera;
  const support = standing(shot);
  const range = support?.height?.value;
  if (!support || !range || range.from === range.to) return;
  const held = { support: quoted(support.name), least: lengthText(range.from), most: lengthText(range.to) };
  const outside = outsideHeight(shot, support);
  if (outside === undefined) return;
  const surface = standsOnSurface(shot, support) ? undefined : shot.surface!.height!;
  const related = [
    { start: support.start, end: support.end, file: support.file, message: 'as the kit says' },
    ...(surface ? [{ start: surface.start, end: surface.end, message: 'the height of the surface' }] : []),
  ];
  // Where nobody says how high it is, it is taken to be level with the subject: no plan that can't be kept.
  const taken = height ? '' : ' (level with the subject, as no `height` is said)';
  const lens = lengthText(outside - surfaceAboveFeet(shot, support)!);
  report({
    message: surface ? 'high' : 'low',
    ...(!height && { severity: 'info' as const }),
    data: {
      shot: shot.name,
      ...held,
      lens: (surface ? lens : lengthText(outside)) + taken,
      height: lengthText(outside),
      what: tableText(shot),
    },
    at: height ?? shot.camera.supportName ?? shot,
    related,
    // What it stands on, or another support, mends all shots that it holds too high or too low.
    cause: {
      start: support.start,
      end: support.end,
      file: support.file,
      as: outside < range.from ? 'too low' : 'too high',
    },
    excess: Math.max(range.from - outside, outside - range.to),
    // A camera that moves needs more of a support than its height.
    fixes: () => [
      ...reachable(shot, range, outside),
      ...(moveOf(shot) ? [] : otherSupport(shot, film, 0, 'of known height')),
    ],
  });
}

function checkTable(shot: Shot, { film, report }: Ctx): void {
  const off = offTable(shot, film);
  if (!off) return;
  const { size, front } = off.table;
  report({
    message: 'off',
    severity: liesOnTable.test(off.table.material?.value ?? '') ? 'sheet' : 'info',
    data: {
      shot: shot.name,
      support: quoted(shot.camera.support!.name),
      away: lengthText(Math.round(off.awayMm)),
      way: off.way,
      size: size!.text,
      placed: front
        ? ` and begins ${lengthText(front.value)} before it`
        : ', which is too short even with the product at its far edge',
    },
    at: shot.camera.supportName ?? shot,
    related: [{ start: size!.start, end: size!.end, message: 'the size of the table' }],
    excess: off.overMm,
    cause: { start: size!.start, end: size!.end, as: 'off the table' },
  });
}

/** A sheet of plastic or glass is no table, and nobody has said how large the one under it is. */
const liesOnTable = /acrylic|glass|mirror/i;

function checkFloor(shot: Shot, { film, report }: Ctx): void {
  const { support, supportName } = shot.camera;
  if (!support?.height || support.standsOn === 'hand' || standsOnSurface(shot, support)) return;
  const found = inTable(shot, film);
  if (!found) return;
  const { front, size, byMm, mostMm } = found;
  const most = `${num(mostMm / 10, 0)} cm`;
  const data = { shot: shot.name, support: quoted(support.name), by: lengthText(Math.round(byMm)) };
  const at = front ?? size;
  const common = {
    severity: 'info',
    at: supportName ?? shot,
    excess: byMm,
    cause: at,
    fixes: () => standNearer(shot, film),
  } as const;
  const related = (message: string) => [{ start: at.start, end: at.end, message }];
  if (front)
    report({
      message: 'in',
      data: { ...data, front: front.text },
      related: related('how much table lies before the product'),
      ...common,
    });
  else
    report({
      message: 'inMiddle',
      data: { ...data, size: size.text, most },
      related: related('the size of the table'),
      // Whose lens has to go back anyway comes off the table by that.
      yieldsTo: ['nearer-than-lens-focuses'],
      ...common,
    });
}

/**
 * So near to the front edge that the camera stands before it, for all that is filmed on that table, by as much as the nearest of
 * them needs: nobody moves the product between two shots.
 */
function standNearer(shot: Shot, film: Film): FixIdea[] {
  const shots = onSameSurface(shot, film);
  const most = Math.min(...shots.flatMap((one) => inTable(one, film)?.mostMm ?? []));
  const surfaces = [...new Set(shots.map((one) => one.surface!))];
  const front = `${num(most / 10, 0)} cm`;
  const title = `Stand the product ${front} behind the front edge (the camera then stands before it)`;
  return [{ ...set(title, ...surfaces.map((one) => [one, 'front', front] as const)), isNamed: true }];
}

function tableText({ surface }: Shot): string {
  return surface && surface.aboveTableMm > 0
    ? `the table, ${lengthText(surface.aboveTableMm)} below the surface,`
    : 'the surface';
}

/** The camera at the nearest height that the support has. */
function reachable(shot: Shot, range: Ends<Mm>, outside: Mm): FixIdea[] {
  const { camera } = shot;
  if (camera.height && camera.height.value.from !== camera.height.value.to) return [];
  const nearest = outside < range.from ? range.from : range.to;
  const mm = nearest - surfaceAboveFeet(shot, camera.support!)!;
  const whole = outside < range.from ? Math.ceil(mm) : Math.floor(mm);
  const distance = camera.distance?.value.from ?? Infinity;
  if (Math.abs(whole) > distance) return [];
  const text = `${num(whole / 10, 1)} cm`;
  return [set(`Set height to ${text} (the camera then looks from there)`, [camera, 'height', text])];
}

function checkTurntable(shot: Shot, { report }: Ctx): void {
  const { turn } = shot;
  const range = turn?.table?.speed?.value;
  const rpm = Math.abs(turningRpm(shot));
  const at = turn?.speed ?? turn?.by;
  if (!turn?.table || !range || rpm === 0 || !at) return;
  const least = Math.min(range.from, range.to);
  const most = Math.max(range.from, range.to);
  const data = { shot: shot.name, table: quoted(turn.table.name), rpm: `${num(rpm, 2)} rpm` };
  const tell = (nearest: number): { at: typeof at; fixes: FixIdea[] } => {
    const text = `${num(Math.sign(turn.speed?.value ?? 1) * nearest, 2)} rpm`;
    return { at, fixes: turn.speed ? [set(`Turn at ${text}`, [turn, 'speed', text])] : [] };
  };
  if (rpm > most * (1 + paceTolerance))
    report({ message: 'turnsFast', data: { ...data, most: `${num(most, 2)} rpm` }, excess: rpm / most, ...tell(most) });
  else if (least !== most && rpm < least * (1 - paceTolerance))
    report({
      message: 'turnsSlow',
      data: { ...data, least: `${num(least, 2)} rpm` },
      excess: least / rpm,
      ...tell(least),
    });
}
