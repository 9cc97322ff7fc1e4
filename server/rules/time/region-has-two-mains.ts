import { mainsOfCountry } from '../../calc/mains.ts';
import { mainsRipple } from '../../core/derived/pulses.ts';
import type { Shot } from '../../core/film.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';

export default defineRule({
  id: 'region-has-two-mains',
  family: 'time',
  summary: 'The country has mains of 50 Hz and of 60 Hz, and the region does not say which.',
  severity: 'warning',
  sources: ['IEC World Plugs, list of mains by country'],
  messages: {
    two: 'Mains in {region} are 50 Hz in one part and 60 Hz in the other{where}, so flicker of lamps cannot be checked. Say which, such as {example}.',
  },
  film(film, { report }) {
    const { region } = film;
    const country = region?.value.country;
    if (!region || country === undefined || region.value.mainsHz !== undefined) return;
    const hz = mainsOfCountry(country)?.hz ?? [];
    if (hz.length < 2 || ![...film.shots.values()].some(followsMains)) return;
    report({
      message: 'two',
      data: {
        region: quoted(country),
        where: country === 'JP' ? ' (50 in the east, with Tokyo; 60 in the west, with Osaka)' : '',
        example: quoted(`${region.text} 50 Hz`),
      },
      at: region,
      fixes: region.start === region.end ? [] : hz.map((one) => sayHz(region, country, one)),
    });
  },
});

/** Is there anything that pulses with the mains? */
function followsMains({ lit, room }: Shot): boolean {
  const isRoomLit = room?.source === 'mains-lamps' && room.light?.value !== 0;
  return isRoomLit || lit.some((lamp) => mainsRipple(lamp) !== undefined);
}

function sayHz(region: { text: string; start: number; end: number }, country: string, hz: number): FixIdea {
  const part = country === 'JP' ? (hz === 50 ? ' (the east)' : ' (the west)') : '';
  const text = `${region.text} ${hz} Hz`;
  return { title: `Set region to ${text}${part}`, edits: [{ start: region.start, end: region.end, text }] };
}
