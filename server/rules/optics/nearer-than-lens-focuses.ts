import { distanceForFieldMm, fieldMm } from '../../calc/optics.ts';
import { sensorUsed } from '../../core/derived/optics.ts';
import { tryShot } from '../../core/derived/showings.ts';
import type { Camera, Film, Lens, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, quoted } from '../../core/say.ts';
import { fits } from '../../core/resolve/kit.ts';

export default defineRule({
  id: 'nearer-than-lens-focuses',
  family: 'optics',
  summary: 'The subject is nearer than the lens can focus.',
  severity: 'error',
  sources: ['the kit: nearest focus, counted from the sensor as makers state it'],
  messages: {
    near: '{shot}: {lens} focuses from {nearest} in front of it, and the focus is at {focus}: the subject cannot be made sharp. Go farther back, or use another lens.',
    estimated:
      '{shot}: {lens} focuses from {nearest}, and the focus is at {focus} from its front: likely too near. The kit does not say how far its front is from the sensor, where nearest focus counts from.',
  },
  shot(shot, { film, report }) {
    const { lens, focus, distance } = shot.camera;
    if (!lens?.nearestFocus || hasCloseUp(shot)) return;
    const wanted = nearestWanted(shot);
    if (wanted === undefined) return;
    const fromFront = nearestFromFront(lens);
    if (wanted >= fromFront * (1 - 1e-6)) return;
    const data = {
      shot: shot.name,
      lens: quoted(lens.name),
      nearest: lengthText(fromFront),
      focus: lengthText(wanted),
    };
    const ownFocus = typeof focus?.value === 'object' && !isTooNearForAny(shot.camera);
    const common = { at: (ownFocus ? focus : distance) ?? shot, fixes: () => fixes(shot, film) };
    // A long lens whose front-to-sensor distance is not known may still reach.
    const unsure = !lens.fields.said('front-to-sensor') && (lens.focal?.value.from ?? 0) > 12;
    if (unsure) report({ message: 'estimated', data, severity: 'warning', ...common });
    else report({ message: 'near', data, ...common });
  },
});

/** A close-up lens changes the range, by how much only its own data say. */
function hasCloseUp(shot: Shot): boolean {
  return shot.camera.filters.some((filter) => filter.kind === 'close-up');
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
  const cm = Math.ceil(nearestFromFront(lens!) / 10 - 1e-6);
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
