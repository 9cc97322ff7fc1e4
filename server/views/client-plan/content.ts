/**
 * The plan for the client, to be read by somebody who makes no films: what they get and when, what they bring and sign, what
 * was decided, how the film looks, what is still open, and what it costs. Nothing that only the maker needs stands in it.
 */
import { seenChanges } from '../../compare/agreed.ts';
import type { CheckResult } from '../../core/checker.ts';
import type { Film, Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import { half } from '../sheet/room.ts';
import type { Sheet, SheetBlock } from '../sheet/blocks.ts';
import { drawSketch, sketchOf } from '../sketch.ts';
import { decisions } from './decided.ts';
import { type Costs, estimateOf, type Estimate, hoursText } from './estimate.ts';
import { piecesLeft, shotFrame, stripFrames } from './frames.ts';
import { called, capital, dayText, deliverableText, plain } from './plain-words.ts';
import { openQuestions, toBring } from './questions.ts';

export function clientPlanOf(result: CheckResult, film: Film): Sheet {
  const title = film.title?.value ?? 'Film';
  const decided = decisions(result, film);
  const questions = openQuestions(film);
  return {
    title: `${title}: the plan`,
    isForClient: true,
    blocks: [
      heading(1, title),
      ...introduction(film),
      ...getBlocks(film),
      ...whenBlocks(film),
      { kind: 'together', blocks: [heading(2, 'What you bring and sign'), ticks(toBring(film))] },
      ...filmBlocks(film),
      ...shotBlocks(film, decided.shots),
      ...(decided.film.length > 0 ? [heading(2, 'What was decided'), ...decided.film.map(text)] : []),
      ...(questions.length > 0
        ? [
            heading(2, 'What is still open'),
            text('Please write your answers here, or send them with the numbers of the questions.'),
            { kind: 'questions', items: questions } as const,
          ]
        : []),
      ...estimateBlocks(estimateOf(film)),
      ...agreedBlocks(film),
    ],
  };
}

function heading(level: 1 | 2 | 3, words: string): SheetBlock {
  return { kind: 'heading', level, words };
}

function text(words: string): SheetBlock {
  return { kind: 'text', words };
}

function ticks(items: readonly string[]): SheetBlock {
  return { kind: 'ticks', title: '', items };
}

function introduction({ brief }: Film): SheetBlock[] {
  const { client, purpose, mustShow = [], mustNotShow = [] } = brief ?? {};
  const seen = [
    mustShow.length > 0 && `To be seen: ${say.listText(mustShow.map(({ value }) => plain(value)))}.`,
    mustNotShow.length > 0 && `Not to be seen: ${say.listText(mustNotShow.map(({ value }) => plain(value)))}.`,
  ];
  const lines = [client && `For ${client.value}.`, purpose?.value, ...seen];
  return lines.flatMap((line) => (line ? [text(line)] : []));
}

function getBlocks(film: Film): SheetBlock[] {
  const all = [...film.deliverables.values()];
  if (all.length === 0) return [];
  return [
    heading(2, all.length === 1 ? 'What you get' : `What you get: ${all.length} films`),
    { kind: 'list', rows: all.map((one) => [capital(plain(one.name)), deliverableText(one, film)]) },
  ];
}

function whenBlocks({ brief, schedule }: Film): SheetBlock[] {
  const days = schedule.flatMap(({ day, hours }) =>
    day ? [`${dayText(day.value)}${hours ? `, ${hours.text}` : ''}`] : [],
  );
  const rows: [string, string][] = [
    ['Filming', days.join('; ') || 'no day is fixed yet'],
    ['Finished', brief?.due ? dayText(brief.due.value) : 'no day is fixed yet'],
  ];
  return [heading(2, 'When'), { kind: 'list', rows }];
}

function filmBlocks(film: Film): SheetBlock[] {
  const [main, ...others] = [...film.deliverables.values()].filter(({ raster }) => raster);
  if (!main || film.cut.length === 0) return [];
  const left = piecesLeft(film);
  return [
    heading(2, 'The film, from beginning to end'),
    text(
      `Drawn from the plan for ${called(main.name)}: these are no photographs, and light and colours are close, not exact.` +
        (others.length > 0 ? ' The others are made of the same pictures.' : '') +
        (left > 0 ? ` ${left} more pieces follow.` : ''),
    ),
    { kind: 'frames', frames: stripFrames(film, main), isStrip: true },
    ...musicBlocks(film),
  ];
}

function musicBlocks({ music, sounds }: Film): SheetBlock[] {
  const voices = sounds.flatMap(({ words }) => (words ? [`A voice says: “${words.value}”`] : []));
  const track = music?.track ? [`With the music ${called(music.track.value)}.`] : [];
  return [...track, ...voices].map(text);
}

function shotBlocks(film: Film, decided: ReadonlyMap<Shot, readonly string[]>): SheetBlock[] {
  if (film.shots.size === 0) return [];
  // In the order of the film, those that it does not use last.
  const at = ({ pieces }: Shot) => pieces[0]?.index ?? film.cut.length;
  const shots = [...film.shots.values()].sort((a, b) => at(a) - at(b));
  const frames = shots.map((shot) => shotFrame(shot, film, wordsOf(shot, decided.get(shot) ?? [])));
  return [heading(2, 'Each picture'), { kind: 'frames', frames }, ...sketchBlocks(film)];
}

/** As somebody drew them. */
function sketchBlocks(film: Film): SheetBlock[] {
  const drawn = [...film.shots.values()].filter((shot) => sketchOf(film, shot));
  return drawn.map((shot): SheetBlock => ({
    kind: 'together',
    blocks: [
      heading(3, capital(plain(shot.name))),
      { kind: 'picture', picture: drawSketch({ findings: [] }, film, shot, half) },
    ],
  }));
}

function wordsOf({ action, shows, people, pieces, turn }: Shot, decided: readonly string[]): string[] {
  const seen = [...new Set([...shows, ...people].map(({ value }) => value))].filter((name) => name !== 'product');
  const turns = turn && (turn.by || turn.speed) && !action?.what ? ['The product turns.'] : [];
  return [
    ...(action?.what ? [action.what.value] : turns),
    ...(seen.length > 0 ? [`Seen: ${say.listText(seen.map(plain))}`] : []),
    ...decided,
    ...(pieces.length === 0 ? ['Filmed, and not in the film as it is planned now.'] : []),
  ];
}

function estimateBlocks(estimate: Estimate | undefined): SheetBlock[] {
  if (!estimate) return [];
  const { days, editing, costs } = estimate;
  const many = days.length > 1;
  const rows = days.flatMap(({ day, setUps, breakMinutes, hours }, index) => [
    ...setUps.map(({ name, minutes }, at) => [
      at === 0 ? dayName(day, index, many) : '',
      name === undefined ? 'Set up and film' : `Set up and film ${called(name)}`,
      minutesText(minutes),
    ]),
    ...(breakMinutes > 0 ? [['', 'Breaks', minutesText(breakMinutes)]] : []),
    ['', 'Together, without breaks', hoursText(hours)],
  ]);
  const edited = editing === undefined ? [] : [['', 'Editing', hoursText(editing)]];
  const table: SheetBlock = {
    kind: 'table',
    caption: 'How long it takes',
    head: ['Day', 'Work', 'Time'],
    rows: [...rows, ...edited],
  };
  return [
    heading(2, 'Estimate'),
    table,
    text(
      'Times follow from the plan: building, taking and changing over as it is written now. Working time is rounded up to quarters of an hour.',
    ),
    ...(costs ? costBlocks(costs) : []),
  ];
}

function dayName(day: number | undefined, index: number, many: boolean): string {
  return day === undefined ? (many ? `Day ${index + 1}` : 'One day') : dayText(day);
}

function minutesText(minutes: number): string {
  return say.hoursText(minutes * 60);
}

function costBlocks({ lines, net, tax, total, validUntil }: Costs): SheetBlock[] {
  const sums = tax
    ? [
        ['Sum', '', net],
        [`Tax, ${tax.percent} %`, '', tax.amount],
      ]
    : [];
  const rows = [...lines.map(({ what, how, amount }) => [what, how, amount]), ...sums, ['Total', '', total]];
  return [
    { kind: 'table', caption: 'What it costs', head: ['For', 'Reckoned', 'Amount'], rows, isSum: true },
    ...(validUntil === undefined ? [] : [text(`This estimate holds until ${dayText(validUntil)}.`)]),
  ];
}

/** Who agreed to it as it is need not sign it again. */
function agreedBlocks(film: Film): SheetBlock[] {
  const { agreed } = film;
  const changes = changesSinceAgreed(film);
  if (agreed?.who && changes.length === 0) {
    const when = agreed.day ? ` on ${dayText(agreed.day.value)}` : '';
    return [
      heading(2, 'Agreed'),
      text(
        `${agreed.who.value} agreed to this plan${when}${agreed.revision ? `, kept as ${agreed.revision.value}` : ''}.`,
      ),
    ];
  }
  const form: SheetBlock = {
    kind: 'table',
    caption: 'I agree to this plan.',
    head: ['Name', 'Day', 'Signature'],
    rows: [['', '', '']],
    isForm: true,
  };
  const since = changes.map((change) => change.replaceAll('`', ''));
  const news: SheetBlock[] =
    since.length > 0
      ? [
          text(`Since ${agreed?.who?.value ?? 'you'} agreed, this has changed:`),
          ...since.map((one) => text(`– ${one}`)),
        ]
      : [];
  return [{ kind: 'together', blocks: [heading(2, 'Agreed'), ...news, form] }];
}

function changesSinceAgreed(film: Film): string[] {
  const revision = film.agreed?.revision?.value;
  const earlier = revision === undefined ? undefined : film.earlier(revision);
  return earlier?.kind === 'plan' ? seenChanges(earlier.film, film) : [];
}
