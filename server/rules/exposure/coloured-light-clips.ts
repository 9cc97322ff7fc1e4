import { linearFromSrgb, luminance, mixLight, parseHex, type Rgb } from '../../calc/colour.ts';
import { type FaceLight, faceLight, wantedLux } from '../../core/derived/light.ts';
import type { LampPlace } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { luxText, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Lux, Share, Stops } from '../../core/units.ts';

const white: Rgb = { r: 1, g: 1, b: 1 };
const channels = { r: 'red', g: 'green', b: 'blue' } as const;
type Channel = keyof typeof channels;

export default defineRule({
  id: 'coloured-light-clips',
  family: 'exposure',
  summary: 'A saturated coloured lamp reads right on a meter and burns out one channel.',
  severity: 'warning',
  sources: ['ITU-R BT.709 (weights of red, green and blue)', '18 % as mid-grey: a channel is full at +2.47 stops'],
  limits: {
    allow: { quantity: 'stops', default: '2 stops', meaning: 'How far a channel may be over middle grey.' },
    log: { quantity: 'stops', default: '3.5 stops', meaning: 'The same for recordings in log, HLG or PQ.' },
  },
  messages: {
    clips:
      "{shot}: {lamp} is {colour}, so a meter sees little of it and the picture's {channel} channel comes out {stops} over middle grey: it clips and the shape is lost. {way}",
  },
  yieldsTo: ['setting-left-automatic'],
  shot(shot, { limits, report }) {
    const wanted = wantedLux(shot);
    const light = faceLight(shot, 0);
    if (!wanted || !light.complete || light.totalLux <= 0) return;
    const lamp = strongestColour(light);
    if (!lamp) return;
    const space = shot.camera.colourSpace?.value ?? 'bt709';
    const limit = space === 'bt709' ? limits.allow : limits.log;
    const { channel, stops } = fullest(light, wanted);
    const plain = Math.log2(light.totalLux / wanted);
    // Light that is too bright as a whole is exposure's business; here one channel stands out.
    if (stops <= limit + 1e-6 || stops - plain < 0.3) return;
    const level = levelFor(light, lamp, channel, wanted * 2 ** limit);
    report({
      message: 'clips',
      data: {
        shot: shot.name,
        lamp: quoted(lamp.name),
        colour: lamp.colour!.value,
        channel: channels[channel],
        stops: stopsText(stops),
        way:
          level === undefined
            ? 'Use less of it, or a paler colour.'
            : `At ${percentText(level)} it is ${stopsText(limit)} over.`,
      },
      at: lamp.colour!,
      cause: { start: lamp.start, end: lamp.end },
      excess: stops - limit,
      fixes: () => dimmed(lamp, level, limit),
    });
  },
});

function linearOf(lamp: LampPlace): Rgb {
  const rgb = lamp.colour && parseHex(lamp.colour.value);
  return rgb ? linearFromSrgb(rgb) : white;
}

/** Of a colour a kit does not say the light: of its white, blue is less than a tenth. */
function isKnown(lamp: LampPlace): boolean {
  return lamp.measured !== undefined;
}

/** The coloured lamp with most of the light; none under a tenth of it. */
function strongestColour({ lamps }: FaceLight): LampPlace | undefined {
  const coloured = lamps.filter(
    ({ lamp, share }) => lamp.colour && isKnown(lamp) && share >= 0.1 && luminance(linearOf(lamp)) > 0,
  );
  return coloured.sort((a, b) => b.share - a.share)[0]?.lamp;
}

/** The channel that is farthest over middle grey on a grey face, and how far. */
function fullest(light: FaceLight, wanted: Lux): { channel: Channel; stops: Stops } {
  const parts = light.lamps.map(({ lamp, share }) => ({ linear: linearOf(lamp), share }));
  const mix = mixLight([...parts, { linear: white, share: light.roomShare }]);
  const channel = (['r', 'g', 'b'] as const).reduce((best, one) => (mix[one] > mix[best] ? one : best));
  return { channel, stops: Math.log2((mix[channel] * light.totalLux) / wanted) };
}

/** Level at which the channel comes down to `mostLux`, the other lamps staying. */
function levelFor(light: FaceLight, lamp: LampPlace, channel: Channel, mostLux: Lux): Share | undefined {
  const lit = light.lamps.find((one) => one.lamp === lamp)!;
  const linear = linearOf(lamp);
  const own = (lit.lux * linear[channel]) / luminance(linear);
  const all = mixLight([
    ...light.lamps.map((one) => ({ linear: linearOf(one.lamp), share: one.lux })),
    { linear: white, share: light.roomLux },
  ])[channel];
  const factor = (mostLux - (all - own)) / own;
  const level = Math.floor((lamp.level?.value.from ?? 1) * factor * 100) / 100;
  return level >= (lamp.lamp?.level?.value.from ?? 0.05) && !lamp.changes ? level : undefined;
}

/** Its level, and what was measured at the old one with it. */
function dimmed(lamp: LampPlace, level: Share | undefined, limit: Stops): FixIdea[] {
  if (level === undefined) return [];
  const text = percentText(level);
  const lux = luxText(lamp.measured!.value * (level / (lamp.level?.value.from ?? 1)));
  const title = `Set level of ${quoted(lamp.name)} to ${text}, which gives ${lux} (its channel ${stopsText(limit)} over middle grey)`;
  return [set(title, [lamp, 'level', text], [lamp, 'measured', lux])];
}
