import { type CodecProfile, isProfileOf, levelBitrateBps, levelNames, lowestLevel } from '../../calc/codec.ts';
import { masterDecoded, masterRead, plannedAt } from '../../core/derived/decoded-takes.ts';
import { codecNames, isLevel, levelled, levelName, profileNames } from '../../core/derived/stream.ts';
import type { Deliverable, Val } from '../../core/film.ts';
import type { ColourMarks, VideoFacts } from '../../core/footage.ts';
import { defineRule } from '../../core/rule.ts';
import { bitRateText, listText } from '../../core/say.ts';

export default defineRule({
  id: 'master-codec-off',
  family: 'takes',
  summary: 'An exported film is coded in another way than its deliverable, or is marked so that players refuse it.',
  severity: 'warning',
  sources: ['Rec. ITU-T H.264, annex A', 'Rec. ITU-T H.265, annex A', 'Rec. ITU-T H.273 (colour marks)'],
  messages: {
    other:
      '{master} is coded as {found}, where {deliverable} is {planned}. Export it so: players made for the one may refuse the other.',
    lowLevel:
      '{master} is marked level {found}, and what it holds needs {needed}: players trust the mark and stop. Let the encoder set the level.',
    highLevel:
      '{master} is marked level {found}, where {planned} is planned: players made for {planned} refuse it, whatever it holds.',
    burst:
      '{master} takes {most} in its busiest second, and level {level} allows {allowed}: players that keep to it stall there. Limit the peak of the export.',
    colour:
      '{master} is marked {found}, where {deliverable} is {planned}: players show wrong colours. Export it with the marks {marks}.',
    unmarked:
      '{master} has no mark of its colours, and players take it for BT.709 where {planned} is planned. Export it with the marks {marks}.',
  },
  master(master, { footage, report }) {
    const found = masterRead(master, footage);
    const video = found?.facts.video;
    if (!found || !video) return;
    const { deliverable, at } = found;
    const data = { master: found.name, deliverable: deliverable.name };
    const coded = others(deliverable, video);
    if (coded.length > 0) {
      const [named, planned] = [listText(coded.map((one) => one.found)), listText(coded.map((one) => one.planned))];
      const related = plannedAt(...coded.map((one) => one.at));
      report({ message: 'other', data: { ...data, found: named, planned }, at, related });
    } else {
      const level = levelFault(deliverable, video);
      if (level) report({ ...level, data: { ...data, ...level.data }, at, related: plannedAt(deliverable.codecLevel) });
      const burst = burstOf(video, masterDecoded(master, footage)?.decoded.picture?.bitrate.mostBps);
      if (burst) report({ message: 'burst', data: { ...data, ...burst }, at, related: plannedAt(deliverable.bitrate) });
    }
    const colour = colourFault(deliverable, video.colour);
    if (colour)
      report({ ...colour, data: { ...data, ...colour.data }, at, related: plannedAt(deliverable.colourSpaceAt) });
  },
});

interface Other {
  readonly found: string;
  readonly planned: string;
  readonly at?: Val<unknown>;
}

/** What differs of codec, profile, bits, chroma and tier; what the plan leaves open may be as it likes. */
function others(deliverable: Deliverable, video: VideoFacts): Other[] {
  const { codec, profile, bits, chroma, tier } = deliverable;
  const found: (Other | undefined)[] = [
    differs(video.codec, codec, (one) => codecNames[one] ?? one, deliverable.codecAt),
    differs(video.bits, bits, (one) => `${one} bits`, deliverable.bitsAt),
    differs(video.chroma, chroma, (one) => one, deliverable.chromaAt),
  ];
  const all = found.flatMap((one) => one ?? []);
  if (all.length > 0) return all.slice(0, video.codec === codec ? undefined : 1);
  const more = [
    profile && differs(video.profile, profile.value, (one) => `the ${profileNames[one] ?? one} profile`, profile),
    codec === 'h265' && tier === 'main'
      ? differs(video.tier, tier, (one) => `${one} tier`, deliverable.tierAt)
      : undefined,
  ];
  return more.flatMap((one) => one || []);
}

function differs<T extends string | number>(
  found: T | undefined,
  planned: T,
  name: (one: T) => string,
  at: Val<unknown> | undefined,
): Other | undefined {
  return found === undefined || found === planned ? undefined : { found: name(found), planned: name(planned), at };
}

/** A level that is higher than needed is no fault, unless a lower one was asked for. */
function levelFault(deliverable: Deliverable, video: VideoFacts) {
  const { codec, level, profile, raster, rate } = video;
  if (!levelled(codec) || level === undefined || !isLevel(codec, levelName(level))) return undefined;
  const names = levelNames(codec);
  const found = levelName(level);
  const planned = deliverable.codecLevel && levelName(deliverable.codecLevel.value);
  if (planned !== undefined && names.indexOf(found) > names.indexOf(planned) && names.includes(planned))
    return { message: 'highLevel', data: { found, planned, needed: '' } } as const;
  const known = profile as CodecProfile;
  if (profile === undefined || !isProfileOf(codec, known)) return undefined;
  const tier = video.tier === 'high' ? 'high' : 'main';
  const needed = lowestLevel({
    codec,
    profile: known,
    tier,
    widthPx: raster.width,
    heightPx: raster.height,
    fps: rate,
  });
  if (!needed || names.indexOf(found) >= names.indexOf(needed.name)) return undefined;
  return { message: 'lowLevel', data: { found, planned: '', needed: needed.name } } as const;
}

/** Levels count at most what a buffer of a second takes; a little more is no fault of theirs. */
const burstOver = 1.2;

function burstOf(video: VideoFacts, mostBps: number | undefined) {
  const { codec, level, profile, raster, rate } = video;
  if (mostBps === undefined || !levelled(codec) || level === undefined || !isProfileOf(codec, profile as CodecProfile))
    return undefined;
  const tier = video.tier === 'high' ? 'high' : 'main';
  const stream = {
    codec,
    profile: profile as CodecProfile,
    tier,
    widthPx: raster.width,
    heightPx: raster.height,
    fps: rate,
  } as const;
  const allowed = levelBitrateBps(stream, levelName(level));
  if (allowed === undefined || mostBps <= allowed * burstOver) return undefined;
  return { most: bitRateText(mostBps), level: levelName(level), allowed: bitRateText(allowed) };
}

/** Primaries, transfer and matrix of each colour space, as ITU-T H.273 and containers name them. */
const marksOf: Readonly<Record<string, Required<Pick<ColourMarks, 'primaries' | 'transfer'>>>> = {
  bt709: { primaries: 'bt709', transfer: 'bt709' },
  hlg: { primaries: 'bt2020', transfer: 'arib-std-b67' },
  pq: { primaries: 'bt2020', transfer: 'smpte2084' },
};
/** Curves that are shown as BT.709 is. */
const alike: Readonly<Record<string, string>> = {
  'iec61966-2-1': 'bt709',
  smpte170m: 'bt709',
  'bt2020-10': 'bt709',
  'bt2020-12': 'bt709',
  hlg: 'arib-std-b67',
  pq: 'smpte2084',
};
const spoken: Readonly<Record<string, string>> = { bt709: 'BT.709', hlg: 'HLG', pq: 'PQ' };

function colourFault({ colourSpace }: Deliverable, { primaries, transfer }: ColourMarks) {
  const wanted = marksOf[colourSpace];
  if (!wanted) return undefined;
  const marks = `${wanted.primaries} and ${wanted.transfer}`;
  const planned = spoken[colourSpace] ?? colourSpace;
  // Without a mark players take it for BT.709.
  if (primaries === undefined && transfer === undefined)
    return colourSpace === 'bt709'
      ? undefined
      : ({ message: 'unmarked', data: { found: '', planned, marks } } as const);
  const curve = transfer && (alike[transfer] ?? transfer);
  const isOther =
    (primaries ?? wanted.primaries) !== wanted.primaries || (curve ?? wanted.transfer) !== wanted.transfer;
  if (!isOther) return undefined;
  const found = listText([primaries, transfer].filter((one) => one !== undefined));
  return { message: 'colour', data: { found, planned, marks } } as const;
}
