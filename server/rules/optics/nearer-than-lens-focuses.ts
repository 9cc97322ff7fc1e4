import { distanceForFieldMm, fieldMm } from '../../calc/optics.ts';
import { focusRangeOf, sensorUsed, unknownCloseUps } from '../../core/derived/optics.ts';
import { tryShot } from '../../core/derived/showings.ts';
import type { Camera, Film, Filter, Lens, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, listText, quoted } from '../../core/say.ts';
import { fits } from '../../core/resolve/kit.ts';

export default defineRule({
  id: 'nearer-than-lens-focuses',
  family: 'optics',
  summary: 'The subject is nearer than the lens can focus, or farther than it can with a close-up lens or tube on it.',
  severity: 'error',
  sources: [
    'the kit: nearest focus, counted from the sensor as makers state it',
    'thin lenses that touch: 1 ÷ f = 1 ÷ f₁ + dioptres',
  ],
  messages: {
    near: '{shot}: {lens} focuses from {nearest} in front of it, and the focus is at {focus}: the subject cannot be made sharp. Go farther back, or use another lens.',
    estimated:
      '{shot}: {lens} focuses from {nearest}, and the focus is at {focus} from its front: likely too near. The kit does not say how far its front is from the sensor, where nearest focus counts from.',
    far: '{shot}: with {closeUps} {lens} focuses from {nearest} to {farthest} in front of it and no farther, and the focus is at {focus}. Go nearer, or take {closeUps} off.',
    unknown:
      '{shot}: {lens} alone focuses from {nearest} in front of it, the focus is at {focus}, and nothing says how strong {closeUps} is: whether it can be made sharp is not checked. Say its `{key}` in the kit.',
  },
  shot(shot, { film, report }) {
    const { lens, focus, distance } = shot.camera;
    if (!lens?.nearestFocus) return;
    const wanted = nearestWanted(shot);
    if (wanted === undefined) return;
    const range = focusRangeOf(shot.camera);
    const fromFront = range?.nearestMm ?? nearestFromFront(lens);
    const ownFocus = typeof focus?.value === 'object' && !isTooNearForAny(shot.camera);
    const at = (ownFocus ? focus : distance) ?? shot;
    const data = {
      shot: shot.name,
      lens: quoted(lens.name),
      nearest: lengthText(fromFront),
      focus: lengthText(wanted),
      closeUps: listText(closeUps(shot.camera).map(({ name }) => quoted(name))),
    };
    if (range && wanted > range.farthestMm * (1 + 1e-6)) {
      const farthest = range.farthestMm;
      const excess = wanted / farthest;
      const back = () => nearest(shot, farthest);
      report({ message: 'far', data: { ...data, farthest: lengthText(farthest) }, at, excess, fixes: back });
    }
    if (wanted >= fromFront * (1 - 1e-6)) return;
    const [first] = unknownCloseUps(shot.camera);
    if (first) {
      const key = first.kind === 'tube' ? 'length' : 'power';
      report({ message: 'unknown', data: { ...data, closeUps: quoted(first.name), key }, at, severity: 'info' });
      return;
    }
    const common = { at, excess: fromFront / wanted, fixes: () => fixes(shot, film) };
    // A long lens whose front-to-sensor distance is not known may still reach.
    const unsure = !lens.fields.said('front-to-sensor') && (lens.focal?.value.from ?? 0) > 12;
    if (unsure) report({ message: 'estimated', data, severity: 'warning', ...common });
    else report({ message: 'near', data, ...common });
  },
});

function closeUps({ filters }: Camera): Filter[] {
  return filters.filter(({ kind }) => kind === 'close-up' || kind === 'tube');
}

/** The camera where what is on its lens still lets it focus. */
function nearest({ camera }: Shot, farthest: number): FixIdea[] {
  const { distance, focus } = camera;
  const cm = Math.floor(farthest / 10 + 1e-6);
  if (!distance || distance.value.from !== distance.value.to || typeof focus?.value === 'object' || cm < 1) return [];
  return [set(`Set distance to ${cm} cm (the farthest that it focuses)`, [camera, 'distance', `${cm} cm`])];
}

/** The nearest focus that the shot asks for, from the front of the lens. */
function nearestWanted({ camera }: Shot): number | undefined {
  const { focus, distance } = camera;
  const value = focus?.value;
  if (typeof value === 'object' && !isTooNearForAny(camera)) return Math.min(value.from, value.to);
  if (!distance) return undefined;
  const { from, to } = distance.value;
  return value === 'locked' ? from : Math.min(from, to);
}

/** At its focal length and nearer a lens makes no picture of the subject, wherever it is focused. */
function isTooNearForAny({ distance, focal }: Camera): boolean {
  return (
    distance !== undefined &&
    focal !== undefined &&
    Math.min(distance.value.from, distance.value.to) <= focal.value.from
  );
}

function nearestFromFront(lens: Lens): number {
  return lens.nearestFocus!.value - lens.frontToSensorMm;
}

function fixes(shot: Shot, film: Film): FixIdea[] {
  const { lens, focus, distance, focal } = shot.camera;
  if (!distance || distance.value.from !== distance.value.to) return [];
  const cm = Math.ceil((focusRangeOf(shot.camera)?.nearestMm ?? nearestFromFront(lens!)) / 10 - 1e-6);
  if (typeof focus?.value === 'object' && !isTooNearForAny(shot.camera)) {
    return [set(`Set focus to ${cm} cm (the nearest of this lens)`, [shot.camera, 'focus', `${cm} cm`])];
  }
  const sensor = sensorUsed(shot);
  const width = (mm: number, f: number) => (sensor ? fieldMm(sensor.widthMm, f, mm) : undefined);
  const field = focal && width(cm * 10, focal.value.from);
  const back = set(
    `Set distance to ${cm} cm (the nearest of this lens${field ? `, ${lengthText(field)} wide in the picture` : ''})`,
    [shot.camera, 'distance', `${cm} cm`],
  );
  const now = focal && width(distance.value.from, focal.value.from);
  return now ? [back, ...otherLenses(shot, film, now)] : [back];
}

/** Other lenses of the kit from where they show the same width, where they focus on that. */
function otherLenses(shot: Shot, film: Film, field: number): FixIdea[] {
  const { camera } = shot;
  return [...film.kit.lenses.values()].flatMap((lens) => {
    const f = lens.focal?.value;
    if (lens === camera.lens || !f || f.from !== f.to || !lens.nearestFocus || !fits(lens, camera.body?.name))
      return [];
    const sensor = sensorUsed(tryShot(shot, { camera: { lens } }));
    if (!sensor) return [];
    const mm = Math.round(distanceForFieldMm(sensor.widthMm, f.from, field) / 10) * 10;
    if (mm < nearestFromFront(lens)) return [];
    return set(
      `Use ${quoted(lens.name)} from ${lengthText(mm)} (the same width in the picture)`,
      [camera, 'lens', lens.name],
      [camera, 'distance', lengthText(mm)],
    );
  });
}
