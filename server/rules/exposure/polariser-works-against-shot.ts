import { glareLeft } from '../../calc/reflect.ts';
import { tiltDeg } from '../../core/derived/optics.ts';
import type { Filter, Screen, Shot, Val } from '../../core/film.ts';
import { along } from '../../core/derived/moments.ts';
import { type Cause, defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, lengthText, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Degrees } from '../../core/units.ts';
import { withoutFilter } from './without-filter.ts';

/** Refractive index of acrylic and of most varnishes and glass, near enough. */
const index = 1.49;

export default defineRule({
  id: 'polariser-works-against-shot',
  family: 'exposure',
  summary: 'A polariser is planned where it can blacken a screen, or where it cannot clear the reflection.',
  severity: 'warning',
  sources: ["Fresnel's equations; Brewster's angle, 56.1° at an index of 1.49"],
  limits: {
    left: { quantity: 'share', default: '20 %', meaning: 'Share of the glare that may be left.' },
  },
  messages: {
    screen:
      '{shot}: the light of {screen} is polarised, and {filter} turned across it makes the screen black. Turn the filter for the screen and see what it still clears, or leave it off (it takes {price}).',
    metal:
      '{shot}: {filter} clears nothing from bare metal, whose reflections are hardly polarised, and takes {price}. Shade or move what is mirrored instead.',
    table:
      '{shot}: from {tilt} above the {finish} surface {filter} leaves at best {left} of the glare and takes {price}. From 34° above it can clear all of it.',
  },
  shot(shot, { film, limits, report }) {
    const filter = polariser(shot);
    if (!filter) return;
    const { surface } = shot;
    const data = { shot: shot.name, filter: quoted(filter.gear.name), price: stopsText(filter.gear.loses) };
    const common = (as: string) => ({ at: filter.at, cause: causeOf(filter.gear, as) });
    const off = () => withoutFilter(shot, film, filter.gear).ideas;
    const screen = polarised(shot);
    if (screen) {
      report({ message: 'screen', data: { ...data, screen: quoted(screen.name) }, ...common('screen'), fixes: off });
      return;
    }
    const clearable = mirrorsPartly(surface?.finish);
    const isForVarnish = varnished.test(surface?.material?.value ?? '');
    if (film.product.finish === 'metallic' && !clearable && !isForVarnish) {
      const isWanted = isInTheOpen(shot) || withoutFilter(shot, film, filter.gear).isNeeded;
      if (!isWanted) report({ message: 'metal', data, severity: 'info', ...common('metal'), fixes: off });
      return;
    }
    // A glossy product has faces of its own that the filter may be meant for.
    const forProduct = mirrorsPartly(film.product.finish);
    const tilt = tiltDeg(shot, 0);
    const left = glareLeft(90 - tilt, index);
    if (!clearable || forProduct || !surface || tilt <= 0 || left <= limits.left + 1e-6) return;
    report({
      message: 'table',
      severity: 'info',
      data: { ...data, tilt: angleText(tilt, 0), finish: surface.finish, left: percentText(left) },
      ...common('table'),
      excess: left,
      fixes: () => [...from(shot, 34), ...off()],
    });
  },
});

/** However dull it is, a filter may be meant for its sheen. */
const varnished = /lacquer|varnish|glaze|enamel|polish/i;

/** One filter in the wrong place is one finding, however many shots it is on. */
function causeOf({ start, end, file }: Filter, as: string): Cause {
  return { start, end, file, as };
}

/** The screen behind, where it is lit and an LCD. */
function polarised({ backdrop }: Shot): Screen | undefined {
  const { screen, brightness } = backdrop ?? {};
  return screen?.panel?.value === 'lcd' && brightness?.value !== 0 ? screen : undefined;
}

/** What it mirrors is polarised in part, so that a filter can take that away. */
function mirrorsPartly(finish: string | undefined): boolean {
  return finish === 'glossy' || finish === 'transparent';
}

/** Under the sky it may be meant for leaves, water, stone or the sky itself. By a lamp or a window one is indoors. */
function isInTheOpen({ lit, room }: Shot): boolean {
  return lit.length === 0 && room?.source === 'window' && room.light !== undefined;
}

function polariser({ camera }: Shot): { gear: Filter; at: Val<string> } | undefined {
  const gear = camera.filters.find((one) => one.kind === 'polariser' || (!one.kind && /^polari[sz]/.test(one.name)));
  const at = camera.filterNames.find((name) => name.value === gear?.name);
  return gear && at && { gear, at };
}

/** The height from which the camera looks down at that angle, at the distance that it has. */
function from(shot: Shot, tilt: Degrees): FixIdea[] {
  const { camera, subject } = shot;
  const distance = along(camera.distance?.value, 0);
  const moves = camera.distance && camera.distance.value.from !== camera.distance.value.to;
  if (!distance || moves || (camera.height && camera.height.value.from !== camera.height.value.to)) return [];
  const text = lengthText(Math.round((subject.heightMm + distance * Math.sin((tilt * Math.PI) / 180)) / 10) * 10);
  return [set(`Set height to ${text} (${tilt}° above the surface)`, [camera, 'height', text])];
}
