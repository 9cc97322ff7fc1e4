/** Fixes on a take that is written as its clip alone: it becomes a block, and nothing of the line is lost. */
import { describe, expect, it } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { actionsAt } from '../../server/features/actions.ts';
import { footageOf, type SaidClip } from '../helpers/footage.ts';
import { checkSheet, sheet } from '../helpers/workspace.ts';

const slow = { rate: 29.97003, smallestStepS: 0.0333667, largestStepS: 0.0333667, usualStepS: 0.0333667 };

interface Case {
  readonly sheet: string;
  readonly rule: string;
  readonly clip: SaidClip;
  readonly name?: string;
  readonly becomes: string;
}

/** The sheet after the first fix of its one finding, tried as the editor does it. */
function mended({ sheet: blocks, rule, clip, name = 'C0012.MP4' }: Case): string | undefined {
  const footage = footageOf({ [name]: clip, 'S1.WAV': { video: null } });
  const recheck = (text: string) => checkSheet(text, { outside: { footage: () => footage } });
  const text = sheet(blocks);
  const result = recheck(text);
  const [finding] = result.findings.filter((one) => one.rule === rule);
  expect(finding?.rule, result.findings.map(({ message }) => message).join('\n')).toBe(rule);
  const actions = [...drained(actionsAt(result, finding!, recheck, { untried: false, accepts: false }))];
  const fix = actions.find((one) => one.finding?.rule === rule && one.tried);
  return fix && applyEdits(text, fix.edits)?.slice(sheet('').length);
}

function drained<T>(steps: Generator<void, T[]>): T[] {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

const cases: readonly (Case & { readonly what: string })[] = [
  {
    what: 'a rate, before the comment of its line',
    rule: 'recorded-rate-off',
    clip: { video: slow },
    sheet: 'takes:\n  box: C0012.MP4 # not seen yet\n',
    becomes: 'takes:\n  box: { clip: C0012.MP4, camera: { rate: 29.97 } } # not seen yet\n',
  },
  {
    what: 'a raster, in a list of lines',
    rule: 'recorded-too-small',
    clip: { video: { raster: { width: 1280, height: 720 } } },
    sheet: 'takes:\n  box:\n    - C0012.MP4\n',
    becomes: 'takes:\n  box:\n    - { clip: C0012.MP4, camera: { raster: 1280x720 } }\n',
  },
  {
    what: 'bits, in brackets',
    rule: 'recorded-codec-off',
    clip: { video: { bits: 8 } },
    sheet: 'takes:\n  box: [C0012.MP4]\n',
    becomes: 'takes:\n  box: [{ clip: C0012.MP4, camera: { bits: 8 } }]\n',
  },
  {
    what: 'a rate, of a name in quotes',
    rule: 'recorded-rate-off',
    name: 'C 12.MP4',
    clip: { video: slow },
    sheet: "takes:\n  box: 'C 12.MP4'\n",
    becomes: "takes:\n  box: { clip: 'C 12.MP4', camera: { rate: 29.97 } }\n",
  },
  {
    what: 'a rate, of a name that needs quotes in braces only',
    rule: 'recorded-rate-off',
    name: 'box, take 1.MP4',
    clip: { video: slow },
    sheet: 'takes:\n  box: box, take 1.MP4\n',
    becomes: 'takes:\n  box: { clip: "box, take 1.MP4", camera: { rate: 29.97 } }\n',
  },
];

describe('a take written as its clip alone takes over', () => {
  it.each(cases)('$what', (one) => {
    expect(mended(one)).toBe(one.becomes);
  });
});
