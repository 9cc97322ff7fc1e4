import { addScaled, type CameraPose, type Vec3 } from '../../calc/geometry.ts';
import { downAt, edgeRays, type Hung, hungBackdrop, type Past, pastEdge, seamRays } from '../../core/derived/behind.ts';
import type { View } from '../../core/derived/framing.ts';
import { cameraPose } from '../../core/derived/optics.ts';
import { type Showing, showingsOf, trial, tryShot } from '../../core/derived/showings.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, lengthText, listText, num } from '../../core/say.ts';
import { ceil2, deliverablesText, zoomText } from '../framing/words.ts';

export default defineRule({
  id: 'backdrop-edge-in-shot',
  family: 'optics',
  summary: 'The camera sees past an edge of the backdrop or of the surface.',
  severity: 'warning',
  sources: ['similar triangles'],
  messages: {
    backdrop:
      '{shot}: in {deliverables}, the picture reaches past the {edges} of the backdrop, by up to {by}: {behind} behind the product it takes {width} x {height}. Hang it nearer, or use a larger one.',
    away: '{shot}: from {angle}, the picture of {deliverables} reaches past the {edges} of the backdrop, which hangs opposite 0°: nothing is behind the product there. Hang it where the camera looks.',
    front:
      '{shot}: in {deliverables}, the picture reaches over the front edge of the surface, which ends {by} too near to the product for it. Move the product back on it, or zoom in.',
    surface:
      '{shot}: in {deliverables}, the picture reaches past the {edges} of the surface, by up to {by}, and nothing hangs behind it there. Use a larger one, or zoom in.',
  },
  shot(shot, { film, report }) {
    const seen = showingsOf(shot, film).flatMap((showing) => passes(showing, film) ?? []);
    if (seen.every(({ past }) => past.length === 0)) return;
    for (const of of ['backdrop', 'front', 'surface'] as const) {
      const worst = seen.reduce<Passes | undefined>(
        (most, one) => (by(one, of) > by(most, of) ? one : most),
        undefined,
      );
      if (!worst || by(worst, of) <= 0) continue;
      const excess = by(worst, of);
      const data = {
        shot: shot.name,
        deliverables: deliverablesText(worst.showing),
        edges: edgesText(pastOf(worst, of)),
        by: byText(by(worst, of)),
      };
      if (of === 'front') {
        const at = shot.surface?.size ?? shot;
        report({ message: of, data, at, severity: 'info', excess, fixes: () => zoomIn(shot, film) });
      } else if (of === 'surface') {
        report({ message: of, data, at: shot.surface?.size ?? shot, excess, fixes: () => zoomIn(shot, film) });
      } else if (worst.width === 0) {
        const angle = angleText(shot.camera.angle?.value.from ?? 0);
        report({ message: 'away', data: { ...data, angle }, at: shot.camera.angle ?? shot, excess });
      } else {
        const { behind } = shot.backdrop!;
        const size = { behind: behind!.text, width: lengthText(worst.width), height: lengthText(worst.height) };
        const fixes = () => [...nearer(shot, film), ...zoomIn(shot, film)];
        report({ message: 'backdrop', data: { ...data, ...size }, at: behind!, excess, fixes });
      }
    }
  },
});

/** Looking along the backdrop, or zoomed out to nothing, the picture goes on without end. */
function byText(mm: number): string {
  return mm > 1e5 ? 'more than 100 m' : lengthText(mm);
}

type Kind = 'backdrop' | 'front' | 'surface';

/** What of a showing goes past, over all its moments, and what its picture takes on the backdrop. */
interface Passes {
  readonly showing: Showing;
  readonly past: readonly Past[];
  readonly width: number;
  readonly height: number;
}

function pastOf({ past }: Passes, kind: Kind): Past[] {
  return past.filter((one) =>
    kind === 'backdrop' ? one.of === 'backdrop' : one.of === 'surface' && (one.edge === 'front') === (kind === 'front'),
  );
}

function by(one: Passes | undefined, kind: Kind): number {
  return one ? Math.max(0, ...pastOf(one, kind).map((past) => past.byMm)) : 0;
}

function edgesText(past: readonly Past[]): string {
  const names = [...new Set(past.map((one) => one.edge))];
  return `${listText(names)} ${names.length > 1 ? 'edges' : 'edge'}`;
}

/** Undefined where there is nothing to go past. */
function passes(showing: Showing, film: Film): Passes | undefined {
  const { shot } = showing;
  const hung = hungBackdrop(shot, film);
  if (!hung && !shot.surface?.size) return undefined;
  const past: Past[] = [];
  let width = 0;
  let height = 0;
  for (const view of showing.views) {
    const outline = outlineOf(shot, view, hung);
    if (!outline) continue;
    for (const ray of outline.rays) {
      const one = pastEdge(outline.pose, ray, shot, hung, outline.steep);
      if (one) past.push(one);
    }
    const taken = hung && onBackdrop(outline, hung);
    width = Math.max(width, taken?.width ?? 0);
    height = Math.max(height, taken?.height ?? 0);
  }
  return { showing, past, width, height };
}

/** By how far the picture reaches past the backdrop at most; 0 where it does not. For rules that would move it. */
export function pastBackdropMm(shot: Shot, film: Film): number {
  return Math.max(0, ...showingsOf(shot, film).map((showing) => by(passes(showing, film), 'backdrop')));
}

/** Does nothing go past in any showing? Asked of hundreds of variants, most of which the first few rays rule out. */
function clear(shot: Shot, film: Film, larger: number): boolean {
  const hung = hungBackdrop(shot, film);
  if (!hung && !shot.surface?.size) return true;
  return showingsOf(shot, film).every(({ views }) =>
    views.every((view) => {
      const outline = outlineOf(shot, view, hung, larger);
      return outline?.rays.every((ray) => !pastEdge(outline.pose, ray, shot, hung, outline.steep)) ?? true;
    }),
  );
}

/** The picture's outline, as rays from the lens. */
interface Outline {
  readonly pose: CameraPose;
  /** Its corners and the middles of its sides. */
  readonly border: readonly Vec3[];
  /** Those, and the ones that pass between surface and backdrop. */
  readonly rays: readonly Vec3[];
  /** Does all of the picture look down on the surface? */
  readonly steep: boolean;
}

/** @param larger how many times larger the picture is taken than it is, to leave something spare */
function outlineOf(shot: Shot, view: View, hung: Hung | undefined, larger = 1): Outline | undefined {
  const pose = cameraPose(shot, view.actionMoment);
  if (!pose || !view.edges) return undefined;
  const { left, right, bottom, top } = view.edges;
  const edges = { left: left * larger, right: right * larger, bottom: bottom * larger, top: top * larger };
  const border = edgeRays(pose, edges);
  const steep = border.every((ray) => downAt(pose, ray) < Infinity);
  return { pose, border, rays: [...border, ...seamRays(pose, edges, shot, hung)], steep };
}

/** The picture on the plane of the backdrop. */
function onBackdrop({ pose, border }: Outline, hung: Hung): { width: number; height: number } | undefined {
  if (border.some((ray) => ray.z <= 1e-9)) return undefined;
  const hits = border.map((ray) => addScaled(pose.at, ray, (hung.behindMm - pose.at.z) / ray.z));
  const extent = (values: number[]) => Math.max(...values) - Math.min(...values);
  return { width: extent(hits.map((hit) => hit.x)), height: extent(hits.map((hit) => hit.y)) };
}

/** Nobody hangs a backdrop farther off than this, nor zooms in more, so nothing beyond is tried. */
const farthestMm = 10_000;
const mostZoom = 4;

/** The farthest that the backdrop may hang and still fill the picture, with 5 % to spare. */
function nearer(shot: Shot, film: Film): FixIdea[] {
  const { backdrop, subject } = shot;
  const now = backdrop!.behind!.value;
  const least = Math.max(subject.box?.depthMm ?? 0, film.product.size?.value.depthMm ?? 0) / 2 + 100;
  for (let mm = Math.floor((Math.min(now, farthestMm) - 1) / 10) * 10; mm >= least; mm -= mm > 1000 ? 50 : 10) {
    const tried = tryShot(shot, { backdrop: { ...backdrop!, behind: trial(mm) } });
    if (!clear(tried, film, 1.05)) continue;
    const text = `${num(mm / 10, 0)} cm`;
    return [
      set(`Hang the backdrop ${text} behind (it fills the picture, and is less blurred)`, [backdrop!, 'behind', text]),
    ];
  }
  return [];
}

/** The least zoom of the pieces that leaves the edge outside, where the recording has the pixels. */
function zoomIn(shot: Shot, film: Film): FixIdea[] {
  if (shot.pieces.length === 0) return [];
  const spare = Math.min(...showingsOf(shot, film).flatMap(({ views }) => views.map((view) => view.scale)));
  for (let k = 1.02; k <= Math.min(spare, mostZoom); k += 0.02) {
    if (!clear(shot, film, 1.02 / k)) continue;
    const zooms = shot.pieces.map((piece) => {
      const ends = { from: ceil2(piece.zoom.from * k), to: ceil2(piece.zoom.to * k) };
      return [piece, 'zoom', zoomText(ends)] as const;
    });
    return [set(`Zoom in ${num(k, 2)} times in the edit (the edge is outside, the product larger)`, ...zooms)];
  }
  return [];
}
