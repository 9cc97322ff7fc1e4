import { type LevelBreach, levelBitrateBps, levelBreach, lowestLevel, type Stream } from '../../calc/codec.ts';
import type { Deliverable, Val } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { bitRateText, groupedText } from '../../core/say.ts';
import { bitRateBelow, isForPlayers, isLevel, levelName, streamName, streamOf } from '../../core/derived/stream.ts';

export default defineRule({
  id: 'codec-level-exceeded',
  family: 'delivery',
  summary: 'Picture size, rate or bitrate is more than the level of the codec allows.',
  severity: 'error',
  sources: ['Rec. ITU-T H.264 tables A-1 and A-2', 'Rec. ITU-T H.265 tables A.8 and A.9'],
  messages: {
    bitrate: '{deliverable}: {stream} level {level} stops at {limit}, and {found} are planned. {instead}',
    size: '{deliverable}: {stream} level {level} stops at {limit}; {picture} has {found}. {instead}',
    noTier: '{deliverable}: {stream} has no High tier at level {level}: it begins at level 4.',
    noLevel: '{deliverable}: {stream} has no level {level}. {instead}',
    none: '{deliverable}: no level of {stream} holds {picture} with {found}.',
    player:
      '{deliverable}: {what} needs {stream} level {needed}; players on phones and the web decode up to level {cap} (common practice){limit}.',
  },
  deliverable(deliverable, { report }) {
    const stream = streamOf(deliverable);
    if (!stream) return;
    const { codecLevel, bitrate, tierAt, name } = deliverable;
    const lowest = lowestLevel(stream)?.name;
    const data = { deliverable: name, stream: streamName(stream), instead: lowest ? `Level ${lowest} holds it.` : '' };
    const picture = pictureText(deliverable);
    if (!codecLevel) {
      const found = bitrate?.text ?? 'any bitrate';
      if (!lowest) report({ message: 'none', data: { ...data, picture, found }, at: bitrate ?? deliverable.raster! });
      else if (isForPlayers(deliverable)) {
        const over = overCap(deliverable, stream, picture);
        if (over) report({ message: 'player', data: { ...data, ...over.texts, needed: lowest }, ...over.place });
      }
      return;
    }
    const level = levelName(codecLevel.value);
    const breach = isLevel(stream.codec, level) ? levelBreach(stream, level) : noSuchLevel;
    if (!breach) return;
    const fixes = () => fixesFor(deliverable, stream, level, breach, lowest);
    const texts = { ...data, level };
    if (breach.kind === 'no-level') report({ message: 'noLevel', data: texts, at: codecLevel, fixes });
    else if (breach.kind === 'no-tier') {
      const main = { ...texts, stream: streamName({ ...stream, tier: 'main' }) };
      report({ message: 'noTier', data: main, at: tierAt ?? codecLevel, fixes });
    } else if (breach.kind === 'bitrate') {
      const more = { limit: bitRateText(breach.limit), found: bitrate!.text };
      report({ message: 'bitrate', data: { ...texts, ...more }, at: bitrate!, fixes });
    } else report({ message: 'size', data: { ...texts, ...sizeTexts(breach), picture }, at: codecLevel, fixes });
  },
});

const noSuchLevel: LevelBreach = { kind: 'no-level', found: 0, limit: 0, unit: '' };

function pictureText({ raster, rate }: Deliverable): string {
  return `${raster!.text} at ${rate!.text}`;
}

/** What phones and web players take: H.264 5.2 and HEVC 5.1 Main tier; common practice, no source. */
function overCap(deliverable: Deliverable, stream: Stream, picture: string) {
  const { bitrate, raster } = deliverable;
  const cap = stream.codec === 'h264' ? '5.2' : '5.1';
  const breach = levelBreach({ ...stream, tier: 'main' }, cap);
  if (!breach) return undefined;
  const byBitrate = breach.kind === 'bitrate' && bitrate !== undefined;
  const at: Val<unknown> = byBitrate ? bitrate : raster!;
  return {
    texts: {
      what: byBitrate ? bitrate.text : picture,
      cap,
      limit: byBitrate ? `, which stops at ${bitRateText(breach.limit)}` : '',
    },
    place: { at, severity: 'warning' as const, fixes: byBitrate ? bitrateFix(deliverable, breach.limit) : [] },
  };
}

const per: Partial<Record<LevelBreach['kind'], string>> = {
  picture: ' in a picture',
  side: ' along a side',
  rate: ' a second',
};

function sizeTexts({ kind, found, limit, unit }: LevelBreach) {
  return { found: groupedText(found), limit: `${groupedText(limit)} ${unit}${per[kind] ?? ''}` };
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
  return lowest ? [set(`Set level to ${lowest}`, [deliverable, 'codec-level', lowest])] : [];
}
