/** How much light the settings want, and how much there is. */
import { exposureValue, luxWanted, stopsOver } from '../calc/exposure.ts';
import { brighterText, luxText, num } from '../core/say.ts';
import { aperture, exposureTime, iso, lux } from './quantities.ts';
import { defineTopic, needed, optional, usually } from './topic.ts';

const exposureTopic = defineTopic({
  id: 'exposure',
  summary: 'The light that aperture, shutter and ISO want',
  keys: {
    aperture: needed(aperture, 'f-number set'),
    shutter: needed(exposureTime('1/50 s'), 'exposure time of one frame'),
    iso: usually(iso, '100', 'ISO speed set; 100 when left out'),
    lux: optional(lux, 'light that falls on the subject'),
  },
  results: {
    ev: { unit: '', meaning: 'exposure value of aperture and shutter', say: (value) => num(value, 2) },
    ev100: { unit: '', meaning: 'exposure value of the light, at ISO 100', say: (value) => num(value, 2) },
    lux_needed: { unit: 'lx', meaning: 'light needed on the subject', say: luxText },
    stops_over: {
      unit: 'stops',
      meaning: 'light given, over what is needed',
      say: (value) => `${num(value, 2)} stops (${brighterText(value)})`,
    },
  },
  formula:
    'EV = log2(N² ÷ t); EV100 = EV − log2(ISO ÷ 100); lux needed = C·N² ÷ (t·ISO), C = 250; over = log2(lux ÷ needed)',
  source: 'ISO 2720 (exposure relation; C of 240 to 400 for a flat receptor, usually 250)',
  example: ['aperture=f/5.6', 'shutter=1/50s', 'iso=400', 'lux=800'],
  compute({ aperture: fNumber, shutter: timeS, iso: speed, lux: found }) {
    const ev = exposureValue(fNumber, timeS);
    const wanted = luxWanted({ fNumber, timeS, iso: speed });
    return {
      results: {
        ev,
        ev100: ev - Math.log2(speed / 100),
        lux_needed: wanted,
        stops_over: found === undefined ? null : stopsOver(found, wanted),
      },
    };
  },
});

export const exposureTopics = [exposureTopic];
