/** What the core itself says of a file once it can be read, and what `explain` says of each: id → a sentence or two. */
export const coreChecks: Readonly<Record<string, string>> = {
  'unknown-key':
    'A key that the format does not have at this place. The fix writes the one that is meant, where that is plain.',
  'missing-key': 'A block lacks a key without which it means nothing. The fix writes it with an example of its value.',
  'wrong-shape': 'A list, a block or a single value stands where one of the others is wanted.',
  'wrong-unit':
    'A number without its unit, with a unit that does not fit, or written as the format does not write it. A value that is plain is read as it is meant, and the fix writes it so.',
  'unknown-word': 'A word where the format takes one of a few. The message lists them.',
  'bad-name': 'A name of your own has other characters than a to z, 0 to 9 and `-`.',
  'empty-value': 'A key without a value. Write one, or take the key out.',
  'out-of-range': 'A number that no such thing has: it is larger, smaller or finer than the format takes.',
  'name-twice': 'A name stands twice among names that must differ, so that nobody knows which one is meant.',
  'odd-character': 'A character that looks like another, or that nobody sees. The fix writes the usual one.',
  'text-cut-by-hash':
    'A `#` behind a blank begins a comment, and cuts off the rest of what was meant as text. Put it in quotes.',
  'comma-in-braces': 'Within braces a comma ends a value: a text with one in it stands in quotes.',
  'spec-not-found': 'A take sheet names a spec that is not there.',
  'kit-not-found':
    'A spec names a kit that is not there. Paths start at the top of the repo, or where the message says.',
  'kit-outside': 'A kit lies outside the repo, which nothing is read from.',
  'kit-with-errors': 'A kit has errors of its own; what depends on them is not judged until they are mended there.',
  'gear-in-two-kits': 'Two kits of a spec have gear of one name, so that nobody knows which one is meant.',
  'too-many-lamps': 'More lamps than any set has: only some of them are judged.',
  'amount-too-fine': 'An amount of money has more places than its currency.',
  'two-fees-for-shooting': 'Shooting is paid by the hour and by the day at once.',
  'fees-over': 'The last day of the fees is over.',
  'check-failed':
    'A rule failed on this file, which is a fault of the checker; all other rules were still held against it.',
  'merge-key': 'A merge key (`<<`) that takes over nothing, or something that is no block.',
};

/** What is said of the text as YAML, of comments that accept, and of the list of findings itself. */
export const textChecks: Readonly<Record<string, string>> = {
  syntax: 'The text is not YAML, so nothing else is looked at until it is. The finding stands where reading stopped.',
  'empty-file': 'Nothing is in the file yet.',
  'accept-unknown': 'A comment accepts a finding of a rule that there is not.',
  'accept-unused': 'A comment accepts a finding that is not there any more: take it out.',
  'accept-without-reason': 'A comment accepts a finding and does not say why; the next reader wants to know.',
  'alias-circle': 'An alias stands within what it repeats.',
  'unknown-alias': 'An alias repeats what nobody named.',
  'nested-too-deep': 'Blocks within blocks, deeper than any file of this format.',
  'more-findings': 'There are more findings than are shown.',
};
