import { type LevelBreach, levelBitrateBps, levelBreach, lowestLevel, type Stream } from '../../calc/codec.ts';
import type { Deliverable } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { bitRateText, num } from '../../core/say.ts';
import { bitRateBelow, isForPlayers, isLevel, levelName, streamName, streamOf } from './stream.ts';

export default defineRule({
  id: 'codec-level-exceeded',
  family: 'delivery',
  summary: 'Picture size, rate or bitrate is more than the level of the codec allows.',
  severity: 'error',
  sources: ['Rec. ITU-T H.264 tables A-1 and A-2', 'Rec. ITU-T H.265 tables A.8 and A.9'],
  messages: {
    bitrate: '{deliverable}: {stream} level {level} stops at {limit}, and {found} are planned. {instead}',
    picture:
      '{deliverable}: {stream} level {level} stops at {limit} {unit} in a picture; {raster} has {found}. {instead}',
    side: '{deliverable}: {stream} level {level} allows sides of {limit} {unit} at most; {raster} has {found}. {instead}',
    rate: '{deliverable}: {stream} level {level} stops at {limit} {unit} a second; {raster} at {rate} has {found}. {instead}',
    noTier: '{deliverable}: {stream} has no High tier at level {level}: it begins at level 4.',
    noLevel: '{deliverable}: {codec} has no level {level}. {instead}',
    none: '{deliverable}: no level of {stream} holds {raster} at {rate} with {found}.',
    player:
      '{deliverable}: {raster} at {rate} needs {stream} level {needed}; players on phones and the web decode up to level {cap} (common practice).',
    playerBitrate:
      '{deliverable}: {found} needs {stream} level {needed}; players on phones and the web decode up to level {cap} (common practice), which stops at {limit}.',
  },
  deliverable(deliverable, { report }) {
    const stream = streamOf(deliverable);
    const { raster, rate, codecLevel, name } = deliverable;
    if (!stream || !raster || !rate) return;
    const texts = { deliverable: name, stream: streamName(stream), raster: raster.text, rate: rate.text };
    const lowest = lowestLevel(stream);
    if (codecLevel) {
      const level = levelName(codecLevel.value);
      const instead = lowest ? `Level ${lowest.name} holds it.` : '';
      if (!isLevel(stream.codec, level)) {
        const data = { deliverable: name, codec: texts.stream, level, instead };
        report({ message: 'noLevel', data, at: codecLevel, fixes: () => levelFix(deliverable, lowest?.name) });
        return;
      }
      const breach = levelBreach(stream, level);
      if (!breach) return;
      const at = breach.kind === 'bitrate' ? (deliverable.bitrate ?? codecLevel) : codecLevel;
      const fixes = fixesFor(deliverable, stream, level, breach, lowest?.name);
      if (breach.kind === 'no-tier') {
        report({
          message: 'noTier',
          data: { deliverable: name, stream: streamName({ ...stream, tier: 'main' }), level },
          at: deliverable.tierAt ?? codecLevel,
          fixes,
        });
      } else if (breach.kind === 'bitrate') {
        const limit = bitRateText(breach.limit);
        const data = { ...texts, level, limit, found: deliverable.bitrate!.text, instead };
        report({ message: 'bitrate', data, at, fixes });
      } else if (breach.kind !== 'no-level') {
        report({ message: breach.kind, data: { ...texts, level, ...numbers(breach), instead }, at, fixes });
      }
    } else if (!lowest) {
      const found = deliverable.bitrate?.text ?? 'any bitrate';
      report({ message: 'none', data: { ...texts, found }, at: deliverable.bitrate ?? raster });
    } else if (isForPlayers(deliverable)) {
      const over = overCap(stream);
      if (!over) return;
      const data = { ...texts, needed: lowest.name, cap: over.cap };
      if (over.breach.kind === 'bitrate') {
        const limit = bitRateText(over.breach.limit);
        report({
          message: 'playerBitrate',
          data: { ...data, limit, found: deliverable.bitrate!.text },
          at: deliverable.bitrate!,
          severity: 'warning',
          fixes: () => bitrateFix(deliverable, over.breach.limit),
        });
      } else {
        report({ message: 'player', data, at: raster, severity: 'warning' });
      }
    }
  },
});

/** What phones and web players take: H.264 5.2 and HEVC 5.1 Main tier; common practice, no source. */
function overCap(stream: Stream): { cap: string; breach: LevelBreach } | undefined {
  const cap = stream.codec === 'h264' ? '5.2' : '5.1';
  const breach = levelBreach({ ...stream, tier: 'main' }, cap);
  return breach && { cap, breach };
}

function numbers({ found, limit, unit }: LevelBreach) {
  const grouped = (value: number) => num(value, 0).replace(/\B(?=(\d{3})+$)/g, ' ');
  return { found: grouped(found), limit: grouped(limit), unit };
}

function fixesFor(
  deliverable: Deliverable,
  stream: Stream,
  level: string,
  breach: LevelBreach,
  lowest: string | undefined,
): FixIdea[] {
  const ideas: FixIdea[] = [];
  if (breach.kind === 'bitrate') ideas.push(...bitrateFix(deliverable, breach.limit));
  const high: Stream = { ...stream, tier: 'high' };
  if (stream.codec === 'h265' && stream.tier === 'main' && !levelBreach(high, level)) {
    const limit = bitRateText(levelBitrateBps(high, level)!);
    ideas.push(set(`Use the High tier (up to ${limit}; few players have it)`, [deliverable, 'tier', 'high']));
  }
  return [...ideas, ...levelFix(deliverable, lowest)];
}

function bitrateFix(deliverable: Deliverable, limitBps: number): FixIdea[] {
  const text = bitRateBelow(limitBps);
  return [set(`Set bitrate to ${text}`, [deliverable, 'bitrate', text])];
}

function levelFix(deliverable: Deliverable, lowest: string | undefined): FixIdea[] {
  if (!lowest) return [];
  return [set(`Set level to ${lowest}`, [deliverable, 'codec-level', lowest])];
}
