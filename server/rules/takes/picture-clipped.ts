import { decodedTake, plannedAt, takeAgain } from '../../core/derived/decoded-takes.ts';
import type { Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { percentText, quoted } from '../../core/say.ts';

export default defineRule({
  id: 'picture-clipped',
  family: 'takes',
  summary: 'More of a recorded picture than a few glints stands at the top or the bottom of its codes.',
  severity: 'warning',
  sources: ['ITU-R BT.709: nominal white and black', 'how much is glint: common practice, no source'],
  limits: {
    allow: { quantity: 'share', default: '1 %', meaning: 'How much of the picture may stand at an end of the codes.' },
  },
  messages: {
    top: '{clip}: {share} of the picture is at the top of its codes, where nothing can be brought back. Give {less} light, or close the lens, and {again}.',
    bottom:
      '{clip}: {share} of the picture is at the bottom of its codes: what is there is gone. Give it light if it should be seen, and {again}.',
  },
  take(take, { footage, limits, report }) {
    const found = decodedTake(take, footage);
    const codes = found?.decoded.picture?.endCodes;
    if (!found || !codes) return;
    const shot = take.asSet ?? take.shot;
    const data = { clip: quoted(found.clip.text), again: takeAgain };
    const common = { at: found.clip, shot: take.shot, related: plannedAt(shot?.camera.exposure ?? shot?.camera.iso) };
    if (codes.top > limits.allow && !isWhiteBehind(shot)) {
      const share = percentText(codes.top, 1);
      report({
        message: 'top',
        data: { ...data, share, less: lessText(codes.top) },
        excess: codes.top,
        explainedBy: ['high-key'],
        ...common,
      });
    }
    if (codes.bottom > limits.allow && !isBlackBehind(shot)) {
      const share = percentText(codes.bottom, 1);
      report({
        message: 'bottom',
        severity: 'info',
        data: { ...data, share },
        excess: codes.bottom,
        explainedBy: ['low-key', 'silhouette'],
        ...common,
      });
    }
  },
});

/** A backdrop that is meant to be white, or that shines itself, is the top. */
function isWhiteBehind(shot: Shot | undefined): boolean {
  return shot?.backdrop?.tone?.value === 'white' || shot?.backdrop?.screenName !== undefined;
}

function isBlackBehind(shot: Shot | undefined): boolean {
  return shot?.backdrop?.tone?.value === 'black' || shot?.backdrop?.screenName !== undefined;
}

function lessText(share: number): string {
  return share > 0.1 ? 'at least a stop less' : 'less';
}
