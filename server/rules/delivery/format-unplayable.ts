import { type Chroma, isProfileOf, profileFor, type CodecProfile } from '../../calc/codec.ts';
import type { Range } from '../../core/document/node.ts';
import type { Deliverable, Film } from '../../core/film.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { listText, num, quoted } from '../../core/say.ts';
import { codecNames, isForPlayers, levelled } from '../../core/derived/stream.ts';

const messages = {
  player:
    '{deliverable}: {codec} {what} does not play on most phones. {usual} plays everywhere; keep the rest for a master.',
  hdr: '{deliverable}: {space} is shown wrongly on ordinary screens, and no other deliverable for {uses} is in bt709.',
  profileOf: '{deliverable}: {codec} has no profile `{profile}`.{usual}',
  profileHolds: '{deliverable}: the profile `{profile}` holds no {what}. Change one of them.',
  container: '{deliverable}: {container} does not take {codec}; it takes {takes}.',
  soundRate: '{deliverable}: sound at {rate} {why}. Deliver 48 kHz.',
  thin: '{deliverable}: broadcasters usually want 4:2:2, and 4:2:0 is planned: ask before you render.',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'format-unplayable',
  family: 'delivery',
  summary: 'The file cannot be made as written, or ordinary players cannot show it.',
  severity: 'warning',
  sources: [
    'Rec. ITU-T H.264 annex A and H.265 annex A (profiles)',
    'common practice, no source (what players decode)',
    'EBU R 124 (4:2:2 in HD broadcast; from memory)',
    'sampling theorem; 48 kHz for sound with picture: AES5, from memory',
  ],
  messages,
  deliverable(deliverable, { film, report }) {
    const { name, chroma } = deliverable;
    const data = names(deliverable);
    checkContainer(deliverable, report);
    checkProfile(deliverable, report);
    checkSoundRate(deliverable, report);
    if (isForPlayers(deliverable)) {
      const fault = forPlayers(deliverable);
      // What the profile does not hold either has been said.
      if (fault && !cannotBeCoded(deliverable)) {
        const { bitsAt, chromaAt, codecAt } = deliverable;
        const at = saidHere(deliverable, fault.key === 'bits' ? bitsAt : chromaAt, codecAt) ?? deliverable;
        report({ message: 'player', data: { ...data, what: fault.what, usual: fault.usual }, at, fixes: fault.fixes });
      }
      if (lacksCompanion(deliverable, film)) {
        const texts = { deliverable: name, space: deliverable.colourSpace, uses: listText(deliverable.shownOn) };
        report({ message: 'hdr', data: texts, at: deliverable.colourSpaceAt ?? deliverable });
      }
    } else if (isHdBroadcast(deliverable) && chroma === '4:2:0') {
      report({
        message: 'thin',
        data: { deliverable: name },
        at: deliverable.chromaAt ?? deliverable,
        severity: 'info',
      });
    }
  },
});

function names({ name, codec }: Deliverable): { deliverable: string; codec: string } {
  return { deliverable: name, codec: codecNames[codec] ?? codec };
}

function checkContainer(deliverable: Deliverable, report: Ctx['report']): void {
  const { codec, codecAt, container, fields } = deliverable;
  const codecs = containerTakes[container];
  if (!codecs || codecs.includes(codec)) return;
  const takes = listText(
    codecs.map((one) => codecNames[one]!),
    'or',
  );
  const at = saidHere(deliverable, codecAt, fields.keyRange('container')) ?? deliverable;
  const fixes = (['webm', 'mp4'] as const)
    .filter((one) => containerTakes[one]?.includes(codec) ?? true)
    .map((one) => set(`Deliver it as ${one}`, [deliverable, 'container', one]));
  report({ message: 'container', data: { ...names(deliverable), container, takes }, at, severity: 'error', fixes });
}

/** The profile that is said must be one of the codec, and hold the bits and the chroma. */
function checkProfile(deliverable: Deliverable, report: Ctx['report']): void {
  const { codec, profile, bits, chroma } = deliverable;
  if (!profile || !levelled(codec)) return;
  const wrong = !isProfileOf(codec, profile.value as CodecProfile);
  const lacks = wrong ? undefined : lacking(profile.value, bits, chroma);
  if (!wrong && !lacks) return;
  const fault = lacks && isForPlayers(deliverable) ? forPlayers(deliverable) : undefined;
  const { bitsAt, chromaAt, codecAt } = deliverable;
  const at = saidHere(deliverable, profile, ...(lacks ? [bitsAt, chromaAt] : []), codecAt) ?? profile;
  const usual = wrong ? profileFor(codec, bits, chroma as Chroma) : undefined;
  const fixes = [
    ...(fault?.fixes ?? []),
    ...(usual ? [usualProfile(deliverable, usual)] : []),
    ...profileFix(deliverable),
  ];
  const common = { at, severity: 'error', fixes } as const;
  const data = { ...names(deliverable), profile: profile.value };
  if (lacks) report({ message: 'profileHolds', data: { ...data, what: lacks }, ...common });
  else
    report({
      message: 'profileOf',
      data: { ...data, usual: usual ? ` \`${usual}\` is its usual one.` : '' },
      ...common,
    });
}

/** The first of some values that the deliverable says itself; where all are taken over, the first that is said. */
function saidHere({ fields: { own } }: Deliverable, ...values: (Range | undefined)[]): Range | undefined {
  const said = values.filter((one) => one !== undefined);
  return said.find((one) => own && one.start >= own.start && one.end <= own.end) ?? said[0];
}

function usualProfile(deliverable: Deliverable, usual: CodecProfile): FixIdea {
  return set(`Set profile of ${quoted(deliverable.name)} to ${usual}`, [deliverable, 'profile', usual]);
}

/** Sound for picture is 48 kHz in broadcast; on the web 44.1 kHz and more keep all that is heard. */
function checkSoundRate(deliverable: Deliverable, report: Ctx['report']): void {
  const { sampleRate: rate, sound, name } = deliverable;
  if (!rate || sound === 'none') return;
  const broadcast = deliverable.shownOn.includes('broadcast');
  if (broadcast ? rate.value === 48_000 : rate.value >= 44_100) return;
  const why = broadcast
    ? 'is refused by broadcasters'
    : `holds nothing over ${num(rate.value / 2000)} kHz, so it is dull`;
  const fixes = [set('Set sample rate to 48 kHz', [deliverable, 'sample-rate', '48 kHz'])];
  report({ message: 'soundRate', data: { deliverable: name, rate: rate.text, why }, at: rate, fixes });
}

/** Is the profile one of the codec that does not hold the planned bits or chroma? */
function cannotBeCoded({ codec, profile, bits, chroma }: Deliverable): boolean {
  if (!profile || !levelled(codec) || !isProfileOf(codec, profile.value as CodecProfile)) return false;
  return lacking(profile.value, bits, chroma) !== undefined;
}

/** Codecs that a container takes where it takes not all of them; mov from memory: VP9 and AV1 are mapped to mp4 and webm only. */
const containerTakes: Readonly<Record<string, readonly string[]>> = {
  mov: ['h264', 'h265'],
  webm: ['vp9', 'av1'],
  mxf: ['h264', 'h265'],
};

/** What a profile cannot hold of the planned bits and chroma. */
function lacking(profile: string, bits: number, chroma: string): string | undefined {
  if (chroma === '4:4:4') return '4:4:4';
  if (chroma === '4:2:2' && !profile.includes('4-2-2')) return '4:2:2';
  const most = profile.endsWith('10') || profile === 'high-4-2-2' ? 10 : 8;
  return bits > most ? `${bits} bits` : undefined;
}

/** The planned profile taken out: the ordinary one for bits and chroma then counts. */
function profileFix(deliverable: Deliverable): FixIdea[] {
  const own = deliverable.fields.own?.pairs.some((pair) => pair.key.text === 'profile');
  return own ? [{ title: 'Leave the profile to the encoder', remove: [{ block: deliverable, key: 'profile' }] }] : [];
}

interface Fault {
  readonly key: 'bits' | 'chroma';
  readonly what: string;
  readonly usual: string;
  readonly fixes: FixIdea[];
}

/** Phones decode H.264 in 4:2:0 with 8 bits and HEVC in 4:2:0 with 8 or 10. */
function forPlayers(deliverable: Deliverable): Fault | undefined {
  const { codec, bits, chroma } = deliverable;
  if (!levelled(codec)) return undefined;
  const most = codec === 'h264' ? 8 : 10;
  const [wrongChroma, wrongBits] = [chroma !== '4:2:0', bits > most];
  if (!wrongChroma && !wrongBits) return undefined;
  const changes = [
    ...(wrongChroma ? [[deliverable, 'chroma', '4:2:0'] as const] : []),
    ...(wrongBits ? [[deliverable, 'bits', String(most)] as const] : []),
  ];
  const usual = `4:2:0 with ${most} bits`;
  return {
    key: wrongChroma ? 'chroma' : 'bits',
    what: `${chroma} with ${bits} bits`,
    usual,
    fixes: [set(`Deliver ${usual}`, ...changes)],
  };
}

/** A high dynamic range with nothing beside it for the screens that have none. */
function lacksCompanion({ name, colourSpace, shownOn }: Deliverable, film: Film): boolean {
  if (colourSpace === 'bt709') return false;
  return ![...film.deliverables.values()].some(
    (one) => one.name !== name && one.colourSpace === 'bt709' && one.shownOn.some((use) => shownOn.includes(use)),
  );
}

function isHdBroadcast({ shownOn, raster }: Deliverable): boolean {
  return shownOn.includes('broadcast') && (raster?.value.height ?? 0) >= 720;
}
