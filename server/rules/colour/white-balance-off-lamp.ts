import type { Range } from '../../core/document/node.ts';
import { mired } from '../../calc/temperature.ts';
import { isBlackAndWhite, neutralMired, warmerBy, type White, whitesOf } from '../../core/derived/white-points.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, type PurposeWord, set } from '../../core/rule.ts';
import { kelvinText, num, listText, quoted } from '../../core/say.ts';
import type { Mired } from '../../core/units.ts';
import { filterFix, roundKelvin, sameWhite, tuned, whiteName, whiteText } from './white-text.ts';

export default defineRule({
  id: 'white-balance-off-lamp',
  family: 'colour',
  summary: "The camera's white balance is not the colour of the main light.",
  severity: 'warning',
  sources: [
    'reciprocal temperature: equal steps in mired look about equal (definition; IES note)',
    'one noticeable step is about 5.5 mired (Priest 1933, from memory)',
    'exponents of incandescent lamps (IES Lighting Handbook, from memory)',
    'common practice, no source (25 mired is seen at once, 12 can be graded)',
  ],
  limits: {
    allow: { quantity: 'mired', default: '25 mired', meaning: 'From how far off this is a warning.' },
    note: { quantity: 'mired', default: '12 mired', meaning: 'From how far off this is worth a note.' },
  },
  messages: {
    off: '{shot}: the camera is set for {balance}, but {light} is {temperature}: the picture will be {apart} mired too {cast}. {matching} matches.',
    screen:
      '{shot}: the camera is set for {balance}, but it is exposed for {screen}, whose white is {temperature}: the picture on it will be {apart} mired too {cast}. {matching} matches.',
  },
  shot(shot, { film, limits, meant, report }) {
    const balance = shot.camera.whiteBalance;
    const neutral = neutralMired(shot);
    if (!balance || neutral === undefined || isBlackAndWhite(film)) return;
    if (shot.camera.meter === 'backdrop') {
      // What plays on a screen may be tinted a little; its white is the white of the picture all the same.
      const off = screenOff(shot, neutral);
      if (!off || Math.abs(off.warmer) <= limits.allow + 1e-6) return;
      const { matching, screen, temperature } = off;
      const apart = num(Math.abs(off.warmer), 0);
      const data = { shot: shot.name, balance: balance.text, screen, temperature, apart, matching };
      report({
        message: 'screen',
        data: { ...data, cast: off.warmer > 0 ? 'warm' : 'cool' },
        at: balance,
        explainedBy: [off.warmer > 0 ? 'warm-cast' : 'cool-cast'],
        fixes: [set(`Set white balance to ${matching}`, [shot.camera, 'white-balance', matching])],
      });
      return;
    }
    const { key: strongest, measured } = whitesOf(shot);
    const key = measured ?? strongest;
    if (!key || glows(key)) return;
    const warmer = warmerBy(key, neutral);
    const apart = Math.abs(warmer);
    if (apart <= noteFrom(warmer, limits) + 1e-6 || suitsAnother(shot, neutral, key)) return;
    const matching = matchingBalance(shot, neutral + warmer);
    const cast = warmer > 0 ? 'warm' : 'cool';
    report({
      message: 'off',
      severity: apart > limits.allow + 1e-6 ? undefined : 'info',
      data: {
        shot: shot.name,
        balance: balance.text,
        light: whiteName(key),
        temperature: whiteText(key),
        apart: num(apart, 0),
        cast,
        matching: kelvinText(matching),
      },
      at: balance,
      // One balance that suits no lamp is set once.
      cause: { ...placeOf(balance), as: cast },
      excess: apart,
      // Between two whites it suits neither, and that is said of them.
      yieldsTo: isBetween(shot, neutral, warmer) ? ['mixed-light'] : [],
      related: key.measured ? [{ ...placeOf(key.temperature), message: 'as measured' }] : [],
      explainedBy: explainersOf(cast, (word) => meant(word, shot)),
      fixes: () => fixes(shot, key, matching, neutral, film),
    });
  },
});

/** Between lights of several colours the balance stands where somebody wants it, but not on the other side of that. */
function explainersOf(cast: 'warm' | 'cool', meant: (word: PurposeWord) => boolean): PurposeWord[] {
  const isMeantOtherwise = meant(cast === 'warm' ? 'cool-cast' : 'warm-cast') && !meant(`${cast}-cast`);
  return isMeantOtherwise ? [] : [`${cast}-cast`, 'mixed-light'];
}

/** A touch of warmth is left in on purpose, as by 3200 K where bulbs have 3000 (common practice, no source). */
const tasteMired: Mired = 21;

function noteFrom(warmer: Mired, { note, allow }: Record<'note' | 'allow', Mired>): Mired {
  return Math.min(warmer > 0 ? Math.max(note, tasteMired) : note, allow);
}

/** How much warmer a screen's white is than what comes out neutral; undefined where the backdrop is no screen of the kit. */
function screenOff(shot: Shot, neutral: Mired) {
  const screen = shot.backdrop?.screen;
  if (!screen) return undefined;
  const white = mired(screen.temperatureK);
  const matching = kelvinText(matchingBalance(shot, white));
  return {
    warmer: white - neutral,
    screen: quoted(screen.name),
    temperature: kelvinText(screen.temperatureK),
    matching,
  };
}

/** A lamp of the scene, or a flame, glows as it does: the balance is set to how it should look. */
function glows({ lamp }: White): boolean {
  return lamp?.role?.value === 'practical' || lamp?.lamp?.kind?.value === 'flame';
}

/** Is another light of the same face off to the other side? */
function isBetween(shot: Shot, neutral: Mired, warmer: Mired): boolean {
  return whitesOf(shot).all.some((one) => one.share >= 0.1 - 1e-9 && warmerBy(one, neutral) * warmer < 0);
}

/** Balanced for another light of the same face: the fault, if it is one, is that they are mixed. */
function suitsAnother(shot: Shot, neutral: Mired, key: White): boolean {
  if (key.measured) return false;
  return whitesOf(shot).all.some(
    (one) => one !== key && one.share >= 0.1 - 1e-9 && Math.abs(warmerBy(one, neutral)) <= sameWhite + 1e-6,
  );
}

/** What the camera would have to be set to for a light of this colour. */
function matchingBalance({ camera }: Shot, light: Mired): number {
  return roundKelvin(light + camera.filters.reduce((sum, filter) => sum + filter.warms, 0));
}

/** Cameras can be set between about 2000 K and 10 000 K (common practice, no source). */
function isSettable(balance: number): boolean {
  return balance >= 2000 && balance <= 10_000;
}

function fixes(shot: Shot, key: White, matching: number, neutral: Mired, film: Film): FixIdea[] {
  const text = kelvinText(matching);
  const camera = isSettable(matching)
    ? [set(`Set white balance to ${text}`, [shot.camera, 'white-balance', text])]
    : [];
  // What was measured was measured with the lamps as they are.
  return key.measured ? camera : [...camera, ...tuneAll(shot, neutral), ...filterFix(key, neutral, film)];
}

/** All white lamps of the face to the camera's balance, where all of them can be set to it. */
function tuneAll(shot: Shot, neutral: Mired): FixIdea[] {
  const lamps = whitesOf(shot).all.filter((one) => one.share >= 0.1 && Math.abs(warmerBy(one, neutral)) > sameWhite);
  const settings = lamps.map((one) => ({ lamp: one.lamp, to: tuned(one, neutral) }));
  if (settings.length === 0 || settings.some((one) => one.to === undefined || !one.lamp)) return [];
  const names = listText(settings.map((one) => quoted(one.lamp!.name)));
  const temperatures = new Set(settings.map((one) => kelvinText(one.to!)));
  const what = temperatures.size === 1 ? `to ${[...temperatures][0]}` : "to the camera's white balance";
  return [
    set(`Set ${names} ${what}`, ...settings.map((one) => [one.lamp!, 'temperature', kelvinText(one.to!)] as const)),
  ];
}

function placeOf({ start, end, file }: Range & { readonly file?: string }) {
  return { start, end, ...(file !== undefined && { file }) };
}
