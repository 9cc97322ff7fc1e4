import { modeWith, ofKit, recordedSpace } from '../../core/derived/recorded.ts';
import type { Block, Deliverable, Film, Shot } from '../../core/film.ts';
import { showsPiece } from '../../core/resolve/edit.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';

export default defineRule({
  id: 'colour-chain-broken',
  family: 'colour',
  summary: 'The colour of the recording, the edit and the deliverable do not join up.',
  severity: 'warning',
  sources: [
    'ITU-R BT.709-6',
    'ITU-R BT.2100-3 (HLG and PQ, 10 or 12 bits)',
    'common practice, no source (log needs a grade)',
  ],
  messages: {
    flat: '{shot}: recorded in log, delivered in {to} as {deliverable}, and no grade stands between: it will look grey and flat. Grade it to {to}, or record that.',
    unconverted:
      '{shot}: recorded in {from}, delivered in {to} as {deliverable}, and no grade stands between: brightness and colour will be wrong. Grade it to {to}, or record that.',
    ungraded:
      '{deliverable}: the grade comes out in log, as the edit is, but this is delivered in {to}: it will look grey and flat. Say what the grade comes out in.',
    converted:
      '{deliverable}: the grade comes out in {from}, this is delivered in {to}: it is converted when it is rendered, and nobody has graded it so. Look at it on a screen for {to}.',
    unsaid:
      '{deliverable}: the deliverables have different colour spaces, and nothing says which of them the grade comes out in. Say it with `to` in `grade`.',
    depth:
      '{deliverable}: {to} in {bits} bits does not exist: its standard (ITU-R BT.2100) has 10 or 12. Deliver 10, or bt709.',
  },
  shot(shot, { film, report }) {
    const from = recordedSpace(shot);
    // A table of the kit that converts log stands between as a grade does.
    const isConverted = from === 'log' && shot.camera.mode?.converts !== undefined;
    if (film.grade || from === undefined || isConverted) return;
    for (const one of film.deliverables.values()) {
      const to = one.colourSpace;
      if (from === to || !isSpace(to) || !shows(one, shot)) continue;
      const message = from === 'log' ? 'flat' : 'unconverted';
      report({
        message,
        data: { shot: shot.name, from, to, deliverable: quoted(one.name) },
        at: shot.camera.colourSpace ?? shot,
        cause: shot.camera.colourSpace ? undefined : ofKit(film, `${from} to ${to}`),
        explainedBy: from === 'log' ? ['flat-grade'] : [],
        fixes: () => [...gradeTo(film, to), ...recordIn(shot, to)],
      });
    }
  },
  deliverable(one, { film, report }) {
    const to = one.colourSpace;
    if (!isSpace(to)) return;
    const at = one.colourSpaceAt ?? one;
    const data = { deliverable: one.name, to };
    if (to !== 'bt709' && one.bits < 10) {
      const { bits } = one;
      report({
        message: 'depth',
        severity: 'error',
        data: { ...data, bits },
        at: one.bitsAt ?? at,
        fixes: () => depthFixes(one),
      });
    }
    if (!film.grade || one.colourSpace === gradedSpace(film)) return;
    const from = gradedSpace(film);
    if (from === 'log') report({ message: 'ungraded', data, at, fixes: () => gradeTo(film, to) });
    else if (from && !isTrim(one, film, from))
      report({ message: 'converted', severity: 'info', data: { ...data, from }, at });
    else if (isOpen(film)) {
      const { start, end } = film.grade;
      report({ message: 'unsaid', data, at, cause: { start, end, isWide: true }, fixes: () => eachSpace(film) });
    }
  },
});

/** Only what can be read is judged. */
function isSpace(word: string): boolean {
  return word === 'bt709' || word === 'hlg' || word === 'pq';
}

/** A shot that no piece of the cut uses counts for all. */
function shows(deliverable: Deliverable, shot: Shot): boolean {
  return shot.pieces.length === 0 || shot.pieces.some((piece) => showsPiece(deliverable, piece));
}

/** What comes out of the grade; undefined where neither it nor the edit says. */
function gradedSpace({ grade, timeline }: Film): string | undefined {
  if (!grade?.to && !grade?.fields.said('to')) return timeline.colourSpace;
  return grade.to && isSpace(grade.to.value) ? grade.to.value : undefined;
}

/** The version for ordinary screens beside the one that was graded: it is asked for, and made from that. */
function isTrim(one: Deliverable, { deliverables }: Film, from: string): boolean {
  return one.colourSpace === 'bt709' && [...deliverables.values()].some(({ colourSpace }) => colourSpace === from);
}

/** Nothing is said, rather than said and unreadable. */
function isOpen({ grade, timeline }: Film): boolean {
  return !grade?.fields.said('to') && !timeline.fields.said('colour-space');
}

function gradeTo(film: Film, to: string): FixIdea[] {
  const grade: Block | undefined = film.grade ?? emptyGrade(film);
  return grade ? [set(`Grade to ${to}`, [grade, 'to', to])] : [];
}

/** Which of them it comes out in is for its maker to say. */
function eachSpace(film: Film): FixIdea[] {
  const spaces = [...film.deliverables.values()].map(({ colourSpace }) => colourSpace).filter(isSpace);
  return [...new Set(spaces)].flatMap((to) => gradeTo(film, to));
}

/** The place at the top of the file where the grade would be said. */
function emptyGrade({ product }: Film): Block | undefined {
  const top = product.fields.parent?.fields;
  return top && { start: product.start, end: product.end, fields: top.block('grade') };
}

function recordIn(shot: Shot, to: string): FixIdea[] {
  if (!modeWith(shot, { colourSpace: to })) return [];
  const price = recordedSpace(shot) === 'log' ? ' (about 2 stops less room for bright tones)' : '';
  return [set(`Record ${to}${price}`, [shot.camera, 'colour-space', to])];
}

/** 10 bits want a codec that players decode with 10 bits; the other way is a deliverable with the display's own curve. */
function depthFixes(one: Deliverable): FixIdea[] {
  const codec = one.codec === 'h264' ? ([[one, 'codec', 'h265']] as const) : [];
  const profile = one.profile ? ([[one, 'profile', 'main-10']] as const) : [];
  const title = one.codec === 'h264' ? 'Deliver 10 bits in h265' : 'Deliver 10 bits';
  const tens = set(
    title,
    [one, 'bits', '10'],
    ...codec,
    ...(one.codec === 'h264' || one.codec === 'h265' ? profile : []),
  );
  return [tens, set('Deliver bt709 (no brighter than an ordinary screen)', [one, 'colour-space', 'bt709'])];
}
