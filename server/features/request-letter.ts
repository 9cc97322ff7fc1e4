/** Letters that ask for what a film still has no paper for: what is wanted from the plan, and blanks where it says nothing. */
import { deliverablesOf, needsOf, type RightUse, usesByRight } from '../core/derived/rights.ts';
import type { Film, Piece } from '../core/film.ts';
import { dateText, listText, quoted, secondsText } from '../core/say.ts';
import { oneLine } from '../formats/escape.ts';
import { paperFault, placesText, territoryText } from '../rules/rights/rights-text.ts';
import { runsS } from '../core/derived/edit.ts';
import { rightKind } from './draft-paper.ts';

export interface Letter {
  /** Of the right, as `rights` calls it or as it is used. */
  readonly name: string;
  readonly text: string;
}

/** In the order of `rights`, then what is used and is not there. One's own work and what belongs to everybody need none. */
export function lettersOf(film: Film): Letter[] {
  const lacking = [...film.rights.values()].filter((right) => right.owner === 'licensed' && paperFault(right, film));
  const unwritten = [...usesByRight(film).keys()].filter((name) => !film.rights.has(name));
  return [...lacking.map(({ name }) => name), ...unwritten].map((name) => ({ name, text: letterText(name, film) }));
}

const blank = '____________________';

function letterText(name: string, film: Film): string {
  const uses = usesByRight(film).get(name) ?? [];
  const kind = rightKind(name, film);
  const shown = deliverablesOf(uses);
  const { shownOn, territory, published } = needsOf(shown);
  const title = film.title ? `“${oneLine(film.title.value.trim())}”` : blank;
  const client = film.brief?.client ? ` for ${oneLine(film.brief.client.value.trim())}` : '';
  const days = published && `${dateText(published.from)} to ${dateText(published.to)}`;
  const rows: [string, string][] = [
    ['What it is', `${about[kind] ?? 'what it is'}: ${blank}`],
    ['Where in the film', listText(placesOf(uses, film)) || blank],
    ['The film', listText(shown.map((one) => lengthText(one, film))) || blank],
    ['Shown', shownOn.length > 0 ? placesText(shownOn) : blank],
    ['Countries', territory.length > 0 ? territoryText(territory) : blank],
    ['For how long', days ?? blank],
    ['Words in the film that name you', film.rights.get(name)?.credit?.value ?? blank],
    ['What you ask for it', blank],
  ];
  return `# A request about ${quoted(name)}

${blank} (place and date)

To ${blank} (${holder[kind] ?? 'whoever holds the right'})

Dear ${blank},

we are making a film${client}: ${title}. ${wish[kind] ?? 'We would like to use something of yours in it'}. Please tell us whether you agree to this:

${rows.map(([what, words]) => `- **${what}**: ${words}`).join('\n')}

${kind === 'release' ? 'We would also like to be allowed to cut the pictures.' : 'We would also like to be allowed to cut it to the length of the film.'} If any of this is not as you want it, write what you want
beside it.

With kind regards,

${blank} (name, address, telephone)

---

I agree to what stands above, as it stands there: yes / no

Place and date: ${blank}

Name and signature: ${blank}

<!-- Made from the plan, and no contract: this is not legal advice. What must be agreed, and who must sign, depends on the law where you
are: have it looked at by somebody who is licensed to advise. When the answer is there, keep it as a file, name that in \`proof\` of
${name} under \`rights\`, and write there what was agreed, not what was asked. -->
`;
}

function lengthText(deliverable: ReturnType<typeof deliverablesOf>[number], film: Film): string {
  const seconds = runsS(deliverable, film);
  return `${deliverable.name}${seconds === undefined ? '' : ` (${secondsText(seconds)})`}`;
}

const about: Readonly<Record<string, string>> = {
  music: 'music: its title, who wrote it and who plays it',
  sound: 'a sound: what is heard, and who recorded it',
  footage: 'pictures: what is seen, and who filmed them',
  font: 'a typeface: its name, and who drew it',
  mark: 'a mark or a name that is seen',
  artwork: 'a work that is seen: its title, and who made it',
  release: 'you, or what of you is seen: hands, face, voice',
  place: 'a place: which rooms, which hours',
};

const holder: Readonly<Record<string, string>> = {
  music: 'the publisher or the composer, and whoever made the recording',
  release: 'the person who is seen or heard, or for a child whoever has custody',
  place: 'the owner, the tenant or the administrator',
};

const wish: Readonly<Record<string, string>> = {
  music: 'We would like to play your music in it',
  sound: 'We would like to use a recording of yours in it',
  footage: 'We would like to show pictures of yours in it',
  font: 'We would like to set its words in your typeface',
  mark: 'Your name or mark is seen in it',
  artwork: 'A work of yours is seen in it',
  release: 'You are to be seen or heard in it',
  place: 'We would like to film it at your place',
};

/** Where each use is seen or heard, in the time of the whole film. */
function placesOf(uses: readonly RightUse[], film: Film): string[] {
  const { sounds, titles } = film;
  const places = uses.flatMap((use): string[] => {
    switch (use.as) {
      case 'music':
        return ['under the film'];
      case 'sound':
        return sounds
          .filter(({ track }) => track?.start === use.at.start)
          .map(({ atS, lengthS }) => span(atS, lengthS === undefined ? undefined : atS + lengthS));
      case 'font':
        return titles
          .filter(({ font }) => font?.start === use.at.start)
          .map(({ text }) => (text ? `the words “${oneLine(text.value.trim())}”` : 'its words'));
      case 'footage':
      case 'shown':
      case 'person':
        return piecesAt(use, film).map(({ startS, endS }) => span(startS, endS));
      case 'place':
        return ['all that is filmed there'];
    }
  });
  return [...new Set(places)].filter(Boolean);
}

/** The pieces of the shot, or the footage, that a name stands in. */
function piecesAt({ at }: RightUse, { cut, shots }: Film): readonly Piece[] {
  const piece = cut.find(({ footage }) => footage?.start === at.start);
  if (piece) return [piece];
  const shot = [...shots.values()].find(
    ({ shows, people, backdrop }) =>
      [...shows, ...people].some(({ start }) => start === at.start) || backdrop?.footage?.start === at.start,
  );
  return shot?.pieces ?? [];
}

function span(fromS: number | undefined, toS: number | undefined): string {
  if (fromS === undefined) return '';
  return toS === undefined ? `from ${secondsText(fromS)}` : `${secondsText(fromS)} to ${secondsText(toS)}`;
}
