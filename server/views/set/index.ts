/** The set of a shot drawn to scale from one side; what is common to the view from above and the one from the side. */
import { surfaceCorners } from '../../core/derived/surface-outline.ts';
import type { Vec3 } from '../../calc/geometry.ts';
import type { Shot } from '../../core/film.ts';
import { Ground } from '../ground.ts';
import { type Label, placeLabels } from '../labels.ts';
import { fitted } from '../measure.ts';
import { letters, type Page, pageFor, type Room } from '../page.ts';
import { assign, blockRange, heading, type Noted, type Picture, type Place, type Source } from '../picture.ts';
import { circuitOf } from '../power.ts';
import type { Scene } from '../scene.ts';
import type { El } from '../svg.ts';
import { backdropOf } from './backdrop.ts';
import { cameraOf } from './camera.ts';
import { footOf } from './foot.ts';
import { floorOf, guideLabels, guides } from './guides.ts';
import { keyOf } from './key.ts';
import { lampLines, lampOf } from './lamp.ts';
import { productOf } from './product.ts';
import { type Scale, scaleFor, type Side } from './scale.ts';
import { sharpOf, sightOf } from './sight.ts';
import { surfaceOf } from './surface.ts';
import { distanceOf } from './tape.ts';
import type { Thing } from './thing.ts';
import { tiltOf } from './tilt.ts';

export function drawSet(source: Source, scene: Scene, side: Side, room: Room): Picture {
  const { shot, film } = scene;
  const page = pageFor(room);
  const title = `${shot.name}: the set ${side.words}`;
  const circuit = room.bare ? undefined : circuitOf(shot, film);
  const head: Place = { ranges: [shot, blockRange(shot)] };
  const power: Place = { ranges: circuit?.ranges ?? [] };
  const points = everything(scene);
  const fit = (top: number) => scaleFor(points, side, { page, top, below: room.bare ? 0 : 70, floorMm: scene.floorMm });
  const numbered = (things: readonly Thing[]) => assign(source, [...things, head, power], shot.name);
  const headed = (marks: readonly Noted[]) => {
    const above = room.bare ? { body: [], bottom: 0 } : heading(page, title, subtitle(shot), shot, marks);
    const scale = fit(above.bottom);
    const things = thingsOf(scene, side, scale);
    return { above, scale, things, ...numbered(things) };
  };
  // How high the head is depends on its marks, and they on the findings that stand at things: mostly it has none.
  const plain = headed([]);
  const marks = plain.at(head);
  const { above, scale, things, noted, at } = room.bare || marks.length === 0 ? plain : headed(marks);
  const lines = [...guides(scene, side, scale), ...things.flatMap((thing) => thing.drawn)];
  const more = guideLabels(scene, side, scale, page);
  const named = namesOf(things, at, { page, scale, lines, more, bare: room.bare === true });
  const foot = room.bare ? { body: [], bottom: scale.bottom } : footOf(scale, page, circuit, at(power));
  const key = named.isShort && !room.bare ? keyOf(things, page, foot.bottom + 8) : foot;
  return {
    view: side.view,
    title,
    description: describe(scene, side),
    width: page.width,
    height: key.bottom + 6,
    body: [...above.body, ...lines, ...named.body, ...foot.body, ...(key === foot ? [] : key.body)],
    noted,
  };
}

/** From what is drawn first to what lies on top. */
function thingsOf(scene: Scene, side: Side, scale: Scale): Thing[] {
  return [
    surfaceOf(scene, side, scale),
    backdropOf(scene, side, scale),
    floorOf(scene, scale),
    ...scene.lamps.map((lamp) => lampOf(lamp, side, scale)),
    sightOf(scene, side, scale),
    sharpOf(scene, side, scale),
    productOf(scene, scale),
    cameraOf(scene, side, scale),
    tiltOf(scene, side, scale),
    distanceOf(scene, side, scale),
  ].flatMap((thing) => thing ?? []);
}

interface Surroundings {
  readonly page: Page;
  readonly scale: Scale;
  readonly lines: readonly El[];
  readonly more: readonly Label[];
  /** The words round the picture say what its head and foot would. */
  readonly bare: boolean;
}

/** Everything beside its thing where all finds a place there; else the names alone. */
function namesOf(
  things: readonly Thing[],
  at: (thing: Thing) => readonly Noted[],
  { page, scale, lines, more, bare }: Surroundings,
): { body: readonly El[]; isShort: boolean } {
  const ground = new Ground({ x: 2, y: scale.area.y, width: page.width - 4, height: scale.bottom - scale.area.y });
  ground.draw(lines);
  const labels = (short: boolean) => [
    ...things
      .flatMap((thing) => (thing.label ? { ...(short ? tagOf(thing, bare) : thing.label), noted: at(thing) } : []))
      .reverse(),
    ...more,
  ];
  const full = page.narrow ? undefined : placeLabels(labels(false), ground.copy(), true);
  if (full?.clean) return { body: full.drawn, isShort: false };
  return { body: placeLabels(labels(true), ground).drawn, isShort: true };
}

/** On a sheet, where the text beside it says what surface and backdrop are, their names give way. */
function tagOf({ label, tag }: Thing, bare: boolean): Label {
  const [first] = label!.lines;
  const words = fitted(tag ?? first!.words, letters.words, 130, first!.bold);
  return { ...label!, lines: [{ ...first!, words }], ...(bare && !first!.bold && { spare: true }) };
}

function subtitle({ setUpName, camera, subject }: Shot): string {
  const parts = [
    setUpName && `set-up ${setUpName.value}`,
    camera.body && `${camera.body.name}${camera.lens ? ` with ${camera.lens.name}` : ''}`,
    camera.supportName && `on ${camera.supportName.value}`,
    subject.name !== 'product' && `aimed at ${subject.name}`,
  ];
  return parts.filter(Boolean).join(' · ');
}

function everything({ camera, lamps, hung, surface, product, productEnd, middle, shot }: Scene): Vec3[] {
  const ends = camera ? [camera.pose.at, ...(camera.end ? [camera.end.at] : []), ...camera.path] : [];
  const wall = hung
    ? [-1, 1].flatMap((x) => [hung.bottomMm, hung.topMm].map((y) => ({ x: x * hung.halfWidthMm, y, z: hung.behindMm })))
    : shot.backdrop?.behind
      ? [{ x: 0, y: middle.y, z: shot.backdrop.behind.value }]
      : [];
  const board = surface ? surfaceCorners(surface) : [];
  const places = lamps.flatMap((lamp) => [...lamp.face, ...lamp.path]);
  return [...ends, ...wall, ...board, ...places, ...product, ...(productEnd ?? []), middle];
}

function describe({ shot, lamps, camera, hung }: Scene, side: Side): string {
  const distance = shot.camera.distance ? ` ${shot.camera.distance.text} from ${shot.subject.name}` : '';
  const lit = lamps.map(
    ({ lamp }) =>
      `${lamp.name} ${lampLines(lamp)
        .slice(1)
        .map((one) => one.words)
        .join(', ')}`,
  );
  const behind = hung && shot.backdrop?.behind ? ` The backdrop hangs ${shot.backdrop.behind.text} behind.` : '';
  return `The set of ${shot.name} ${side.words}, to scale. The camera stands${distance}.${camera ? '' : ' Its place is not known.'} Lamps: ${lit.join('; ') || 'none'}.${behind}`;
}
