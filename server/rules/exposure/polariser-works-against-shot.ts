import { glareLeft } from '../../calc/reflect.ts';
import { tiltDeg } from '../../core/derived/optics.ts';
import type { Film, Filter, Shot, Val } from '../../core/film.ts';
import { along } from '../../core/derived/moments.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, brighterText, lengthText, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Degrees } from '../../core/units.ts';
import { exposureTrade } from './exposure-fixes.ts';

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
    const { backdrop, surface } = shot;
    const data = { shot: shot.name, filter: quoted(filter.gear.name), price: stopsText(filter.gear.loses) };
    const off = leftOff(shot, film, filter.gear);
    if (backdrop?.screen?.panel?.value === 'lcd' && backdrop.brightness?.value !== 0) {
      report({ message: 'screen', data: { ...data, screen: quoted(backdrop.screen.name) }, at: filter.at, fixes: off });
      return;
    }
    const clearable = surface?.finish === 'glossy' || surface?.finish === 'transparent';
    if (film.product.finish === 'metallic' && !clearable) {
      report({ message: 'metal', data, at: filter.at, fixes: off });
      return;
    }
    // A glossy product has faces of its own that the filter may be meant for.
    const forProduct = film.product.finish === 'glossy' || film.product.finish === 'transparent';
    const tilt = tiltDeg(shot, 0);
    const left = glareLeft(90 - tilt, index);
    if (!clearable || forProduct || !surface || tilt <= 0 || left <= limits.left + 1e-6) return;
    report({
      message: 'table',
      data: { ...data, tilt: angleText(tilt, 0), finish: surface.finish, left: percentText(left) },
      at: filter.at,
      fixes: [...from(shot, 34), ...off],
    });
  },
});

function polariser({ camera }: Shot): { gear: Filter; at: Val<string> } | undefined {
  const gear = camera.filters.find((one) => one.kind === 'polariser' || (!one.kind && /^polari[sz]/.test(one.name)));
  const at = camera.filterNames.find((name) => name.value === gear?.name);
  return gear && at && { gear, at };
}

function leftOff(shot: Shot, film: Film, filter: Filter): FixIdea[] {
  const { camera } = shot;
  const rest = camera.filterNames.map((name) => name.value).filter((name) => name !== filter.name);
  const text = rest.length === 0 ? 'none' : rest.length === 1 ? rest[0]! : `[${rest.join(', ')}]`;
  const pay = exposureTrade(shot, film, filter.loses);
  // Another filter in its place would be written over by this change.
  const byIso = pay && pay.changes.every(([, key]) => key === 'iso') ? pay : undefined;
  const title = ['Leave', quoted(filter.name), 'off', ...(byIso?.what.map((what) => `and set ${what}`) ?? [])].join(
    ' ',
  );
  const price = brighterText(filter.loses + (byIso?.gain ?? 0));
  return [set(`${title} (${price})`, [camera, 'filters', text], ...(byIso?.changes ?? []))];
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
