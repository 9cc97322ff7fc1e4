/** The sheet to take on set: one part for each set-up, then rights, deliverables and what to tick off. */
import type { CheckResult } from '../../core/checker.ts';
import { exposureError, faceLight } from '../../core/derived/light.ts';
import { dayPlans, dayTime } from '../../core/derived/schedule.ts';
import { shutterAngle, shutterSeconds } from '../../core/derived/time.ts';
import type { Work } from '../../core/derived/changes.ts';
import type { Range } from '../../core/document/node.ts';
import type { Day, Deliverable, Film, LampPlace, Right, Shot, Val } from '../../core/film.ts';
import { severities, type Finding } from '../../core/finding.ts';
import * as say from '../../core/say.ts';
import { rules } from '../../rules/index.ts';
import { blockRange, type Source } from '../picture.ts';
import { drawBudgets } from '../budgets.ts';
import { drawFrame } from '../frame.ts';
import { circuitOf } from '../power.ts';
import { drawAbove } from '../set-above.ts';
import { drawSide } from '../set-side.ts';
import { drawTimeline } from '../timeline.ts';
import type { Sheet, SheetBlock } from './blocks.ts';
import { checklists, precautionWords } from './checklist.ts';

const care: ReadonlySet<string> = new Set(rules.filter((rule) => rule.family === 'care').map((rule) => rule.id));

/** The sheet of a spec that could be read. */
export function sheetOf(result: CheckResult, film: Film): Sheet {
  const title = film.title?.value ?? 'Shoot';
  const { findings } = result;
  const numbers = new Map(findings.map((finding, index) => [finding, index + 1]));
  const number = (finding: Finding) => numbers.get(finding) ?? 0;
  const parts = partsOf(film);
  const told = new Set<Finding>();
  const setUps = parts.flatMap((part, index) => {
    const own = findings.filter((finding) => concerns(finding, part.work, film));
    for (const finding of own) told.add(finding);
    const heading = `${part.heading} (${index + 1} of ${parts.length})`;
    return setUpBlocks(part, heading, film, { findings: own, number });
  });
  const source = { findings, number };
  const rest = findings.filter((finding) => !told.has(finding));
  return {
    title,
    blocks: [
      ...cover(film, title),
      { kind: 'picture', picture: drawTimeline(source, film) },
      ...setUps,
      { kind: 'page' },
      ...rightsBlocks(film),
      ...deliverableBlocks(film),
      { kind: 'picture', picture: drawBudgets(source, film) },
      ...findingBlocks(rest, number, 'Also to settle'),
      ...silencedBlock(result),
      { kind: 'page' },
      ...tickBlocks(film, findings),
    ],
  };
}

// ---- the head ----------------------------------------------------------------------------------------------------

function cover(film: Film, title: string): SheetBlock[] {
  const { brief, product, region, schedule } = film;
  const facts: [string, string][] = [
    ['Client', brief?.client?.value ?? ''],
    ['Due', brief?.due ? say.dateText(brief.due.value) : ''],
    [
      'Product',
      [product.size?.text, product.finish, product.weight?.text, product.fields.text('contents')?.value]
        .filter(Boolean)
        .join(', '),
    ],
    ['Handle with care', product.hazards.map((one) => one.value).join(', ')],
    ['Product is here', stay(film)],
    ['Must be shown', names(brief?.mustShow)],
    ['Must not be shown', names(brief?.mustNotShow)],
    ['Mains', region ? `${region.text}${film.mainsHz ? `, ${say.num(film.mainsHz)} Hz` : ''}` : ''],
    [
      'Deliverables',
      [...film.deliverables.values()]
        .map((one) => [one.name, one.raster?.text, one.length?.text].filter(Boolean).join(' '))
        .join('; '),
    ],
  ];
  const days = dayPlans(film).filter((plan) => plan.day);
  const table: SheetBlock[] =
    schedule.length === 0
      ? []
      : [
          {
            kind: 'table',
            caption: 'Days',
            head: ['Day', 'Hours', 'Set-ups in order', 'Time needed'],
            rows: days.map((plan) => [
              `${plan.number}${plan.day?.day ? `: ${say.dateText(plan.day.day.value)}` : ''}`,
              hours(plan.day),
              plan.works.map((work) => work.name ?? 'shots without a set-up').join(', '),
              `about ${say.hoursText(dayTime(plan, film).totalS)}`,
            ]),
          },
        ];
  return [{ kind: 'heading', level: 1, words: title }, { kind: 'facts', rows: filled(facts) }, ...table];
}

function hours(day: Day | undefined): string {
  const written = day?.hours;
  if (!written) return '';
  return written.value.to >= 24 * 60 ? `${written.text} (next day)` : written.text;
}

function stay({ product: { arrives, returns } }: Film): string {
  const parts = [arrives && `from ${say.dateText(arrives.value)}`, returns && `until ${say.dateText(returns.value)}`];
  return parts.filter(Boolean).join(' ');
}

function names(all: readonly Val<string>[] | undefined): string {
  return (all ?? []).map((one) => one.value).join(', ');
}

function filled(rows: readonly (readonly [string, string])[]): (readonly [string, string])[] {
  return rows.filter(([, value]) => value !== '');
}

/** So tall that a page holds the set from above and from the side. */
const bothOnAPage = 350;

// ---- set-ups -----------------------------------------------------------------------------------------------------

interface SetUpPart {
  readonly work: Work;
  readonly heading: string;
}

/** Set-ups in the order of work; those that no day names come last. */
function partsOf(film: Film): SetUpPart[] {
  const plans = dayPlans(film);
  const parts = plans.flatMap((plan) =>
    plan.works.map((work) => ({ work, heading: `${plan.day ? `Day ${plan.number}: ` : ''}${workName(work)}` })),
  );
  const planned = new Set(parts.flatMap(({ work }) => work.shots));
  const left = [...film.shots.values()].filter((shot) => !planned.has(shot));
  return left.length > 0 ? [...parts, { work: { shots: left }, heading: 'Not on any day' }] : parts;
}

function workName({ name, shots }: Work): string {
  return name === undefined ? (shots.length === 1 ? 'one shot' : 'all shots') : `set-up ${name}`;
}

function setUpBlocks({ work }: SetUpPart, heading: string, film: Film, source: Source): SheetBlock[] {
  const first = work.shots[0];
  if (!first) return [];
  const { findings, number } = source;
  const warned = findings.filter((one) => care.has(one.rule));
  const others = findings.filter((one) => !care.has(one.rule));
  return [
    { kind: 'page' },
    { kind: 'heading', level: 2, words: heading },
    { kind: 'text', words: `Shots: ${work.shots.map((shot) => shot.name).join(', ')}.` },
    ...findingBlocks(warned, number!, 'Cautions'),
    { kind: 'picture', picture: drawAbove(source, film, first, bothOnAPage) },
    { kind: 'picture', picture: drawSide(source, film, first, bothOnAPage) },
    lampTable(work.shots),
    ...placeBlocks(first, film),
    ...work.shots.flatMap((shot) => shotBlocks(shot, first, film, source)),
    ...findingBlocks(others, number!, 'To put right before it is built'),
  ];
}

function placeBlocks(shot: Shot, film: Film): SheetBlock[] {
  const rows: [string, string][] = [
    ['Backdrop', backdropWords(shot)],
    ['Surface', surfaceWords(shot)],
    ['Room light', roomWords(shot)],
    ['Power', circuitOf(shot, film)?.words ?? ''],
  ];
  return [{ kind: 'facts', rows: filled(rows) }];
}

function backdropWords({ backdrop }: Shot): string {
  if (!backdrop) return '';
  const { screenName, material, size, behind, bottom, brightness, refresh } = backdrop;
  return joined(
    screenName?.value ?? material?.value,
    size?.text,
    behind && `${behind.text} behind`,
    bottom && `lower edge at ${bottom.text}`,
    brightness && `brightness ${brightness.text}`,
    refresh?.text,
  );
}

function surfaceWords({ surface }: Shot): string {
  if (!surface) return '';
  const { material, finish, size, height } = surface;
  return joined(material?.value, finish, size?.text, height && `${height.text} above the floor`);
}

function roomWords({ room }: Shot): string {
  return room ? joined(room.light?.text, room.light?.value !== 0 && room.source, room.temperature?.text) : '';
}

/** What there is of some words, with commas between. */
function joined(...words: readonly (string | number | false | undefined)[]): string {
  return words.filter(Boolean).join(', ');
}

/** Each lamp at each place that any of the shots has lit. */
function lampTable(shots: readonly Shot[]): SheetBlock {
  const lamps = [...new Set(shots.flatMap((shot) => shot.lit))];
  const all = (lamp: LampPlace) => shots.every((shot) => shot.lit.includes(lamp));
  return {
    kind: 'table',
    caption: 'Lamps',
    head: ['Lamp', 'Place', 'Light', 'Held', 'Lit in'],
    rows: lamps.map((lamp) => [
      [lamp.name, lamp.kitName.value === lamp.name ? '' : `(${lamp.kitName.value})`, lamp.role?.value ?? '']
        .filter(Boolean)
        .join(' '),
      [
        lamp.distance?.text,
        lamp.angle && `at ${lamp.angle.text}`,
        lamp.height && `${lamp.height.text} high`,
        lamp.aim === 'backdrop' && 'to the backdrop',
      ]
        .filter(Boolean)
        .join(', '),
      [lamp.colour?.text ?? lamp.temperature?.text, lamp.level?.text, names(lamp.modifierNames)]
        .filter(Boolean)
        .join(', '),
      [lamp.held, lamp.runsOn].join(', '),
      all(lamp)
        ? 'all'
        : shots
            .filter((shot) => shot.lit.includes(lamp))
            .map((shot) => shot.name)
            .join(', '),
    ]),
  };
}

/** The set is drawn again where camera, lamps or backdrop do not stand as in the first shot. */
function shotBlocks(shot: Shot, first: Shot, film: Film, source: Source): SheetBlock[] {
  const { action, takes } = shot;
  const what = [action?.what?.value, shot.fields.text('notes')?.value.trim()].filter(Boolean).join(' ');
  const ticks = Array.from({ length: Math.min(takes, 40) }, (_, index) => `${index + 1}`);
  return [
    { kind: 'heading', level: 3, words: `Shot ${shot.name}` },
    ...(what ? [{ kind: 'text', words: what } as const] : []),
    { kind: 'facts', rows: filled([...settings(shot), ...movement(shot), ...seen(shot, film)]) },
    {
      kind: 'ticks',
      title: shot.record ? `Takes of ${shot.record.text}` : 'Takes',
      items: [...ticks, 'best: ___'],
      inRow: true,
    },
    ...(standsAs(shot) === standsAs(first)
      ? []
      : [{ kind: 'picture', picture: drawAbove(source, film, shot, bothOnAPage) } as const]),
    { kind: 'picture', picture: drawFrame(source, film, shot) },
  ];
}

function standsAs({ camera, lit, backdrop, subject }: Shot): string {
  const { distance, height, angle, slide, lens } = camera;
  const places = [distance, height, angle, slide, backdrop?.behind, backdrop?.size].map((val) => val?.text);
  return JSON.stringify([places, lens?.name, subject.name, lit.map((lamp) => lamp.name)]);
}

function settings(shot: Shot): [string, string][] {
  const { camera } = shot;
  const bits = camera.bits?.text ?? camera.mode?.bits;
  const wayUp = camera.wayUp !== 'upright' && camera.wayUp;
  return [
    ['Camera', joined(camera.body?.name, camera.lens?.name, camera.supportName?.value, wayUp)],
    ['Place', cameraPlace(shot)],
    [
      'Recording',
      joined(
        camera.raster?.text,
        camera.rate && `${camera.rate.text} frames/s`,
        camera.codec?.value ?? camera.mode?.codec,
        bits && `${bits} bits`,
        camera.colourSpace?.value,
      ),
    ],
    ['Shutter', shutterWords(shot)],
    ...(
      [
        ['Aperture', camera.aperture],
        ['ISO', camera.iso],
        ['White balance', camera.whiteBalance],
        ['Focus', camera.focus],
      ] as const
    ).map(([name, val]): [string, string] => [name, val?.text ?? 'not said']),
    ['Filters', names(camera.filterNames)],
    ['Stabiliser', camera.stabiliser?.value ?? ''],
    ['Light', lightWords(shot)],
    ['Sound', shot.microphoneName?.value ?? ''],
  ];
}

function cameraPlace({ camera, subject }: Shot): string {
  const { distance, height, angle } = camera;
  return joined(
    distance && `${distance.text} to ${subject.name}`,
    height && `lens ${height.text} high`,
    angle && `at ${angle.text}`,
  );
}

function shutterWords(shot: Shot): string {
  const { shutter } = shot.camera;
  const [s, angle] = [shutterSeconds(shot), shutterAngle(shot)];
  if (!shutter) return 'not said';
  return joined(s === undefined ? shutter.text : say.shutterText(s), angle !== undefined && say.angleText(angle));
}

function lightWords(shot: Shot): string {
  const light = faceLight(shot, 0);
  const error = exposureError(shot, 0);
  if (!light.complete || light.totalLux <= 0) return '';
  const off = error === undefined || Math.abs(error) < 0.05 ? 'as planned' : `${say.brighterText(error)} than planned`;
  return joined(`${say.luxText(light.totalLux)} on ${shot.subject.name}`, error !== undefined && off);
}

function movement({ camera, turn, action, handlesS, record }: Shot): [string, string][] {
  const changes = [
    ['distance', camera.distance],
    ['height', camera.height],
    ['angle', camera.angle],
    ['slide', camera.slide],
    ['focal length', camera.focal],
  ] as const;
  const moves = changes.flatMap(([name, change]) =>
    change && change.value.from !== change.value.to ? `${name} ${change.text}` : [],
  );
  const turns = turn
    ? [
        turn.tableName?.value,
        turn.starts && `starts at ${turn.starts.text}`,
        turn.by && `turns by ${turn.by.text}`,
        turn.speed && `at ${turn.speed.text}`,
      ]
        .filter(Boolean)
        .join(', ')
    : '';
  const runs = record
    ? [
        `${say.secondsText(handlesS)} still`,
        action?.lasts && `${action.lasts.text} of action`,
        `${say.secondsText(handlesS)} still`,
      ]
        .filter(Boolean)
        .join(', ')
    : '';
  return [
    ['Camera moves', moves.join(', ')],
    ['Turntable', turns],
    ['Each take', runs],
  ];
}

function seen({ shows, people, pieces }: Shot, film: Film): [string, string][] {
  const fps = film.timeline.rate?.text;
  const used = pieces.map(
    (piece) => `piece ${piece.index + 1}, ${piece.length?.text ?? ''} from ${say.secondsText(piece.fromS)}`,
  );
  return [
    ['Shows', names([...new Map([...shows, ...people].map((one) => [one.value, one])).values()])],
    ['In the cut', used.length > 0 ? `${used.join('; ')}${fps ? ` (${fps} frames/s)` : ''}` : 'not used yet'],
  ];
}

// ---- findings ----------------------------------------------------------------------------------------------------

/** Is a finding about a set-up: about its shots, or written in them or in something that they use? */
function concerns(finding: Finding, { name, shots }: Work, film: Film): boolean {
  if (finding.shots) return shots.some((shot) => finding.shots!.includes(shot.name));
  const holds = (range: Range | undefined) =>
    range !== undefined && range.start <= finding.start && finding.end <= range.end;
  const setUp = name === undefined ? undefined : film.setUps.get(name);
  const blocks = shots.flatMap((shot) => [
    blockRange(shot),
    ...shot.lit.map(blockRange),
    blockRange(shot.backdrop),
    blockRange(shot.surface),
  ]);
  return [...blocks, blockRange(setUp)].some(holds);
}

function findingBlocks(
  findings: readonly Finding[],
  number: (finding: Finding) => number,
  title: string,
): SheetBlock[] {
  if (findings.length === 0) return [];
  const sorted = [...findings].sort((a, b) => severities.indexOf(a.severity) - severities.indexOf(b.severity));
  return [{ kind: 'findings', title, items: sorted.map((finding) => ({ number: number(finding), finding })) }];
}

function silencedBlock({ silenced }: CheckResult): SheetBlock[] {
  if (silenced.length === 0) return [];
  const why = ({ by }: (typeof silenced)[number]) =>
    by.kind === 'on-purpose' ? `on purpose: ${by.word}` : `accepted: ${by.reason}`;
  const rows = silenced.map((one) => [one.finding.message, why(one)]);
  return [{ kind: 'table', caption: 'Meant that way', head: ['What was found', 'Why it stays'], rows }];
}

// ---- the end -----------------------------------------------------------------------------------------------------

function rightsBlocks({ rights, exists }: Film): SheetBlock[] {
  const heading: SheetBlock = { kind: 'heading', level: 2, words: 'Rights' };
  if (rights.size === 0) return [heading, { kind: 'text', words: 'No rights are written down.' }];
  const rows = [...rights.values()].map((right) => [
    right.name,
    right.kind?.value ?? '',
    right.proof ? `${right.proof.value}${exists(right.proof.value) ? '' : ' (not there)'}` : 'none named',
    right.shownOn.join(', '),
    right.territory.join(', '),
    [right.from && `from ${say.dateText(right.from.value)}`, right.until && `until ${say.dateText(right.until.value)}`]
      .filter(Boolean)
      .join(' '),
    right.credit?.value ?? owner(right),
  ]);
  return [
    heading,
    { kind: 'table', caption: 'Papers', head: ['For', 'Kind', 'Paper', 'Shown on', 'Where', 'When', 'Credit'], rows },
  ];
}

function owner({ owner: whose }: Right): string {
  return whose === 'own' ? 'our own' : whose === 'public-domain' ? 'public domain' : '';
}

function deliverableBlocks({ deliverables }: Film): SheetBlock[] {
  if (deliverables.size === 0) return [];
  const rows = [...deliverables.values()].map((one) => [
    one.name,
    [one.raster?.text, one.rate && `${one.rate.text} frames/s`, one.length?.text].filter(Boolean).join(', '),
    [
      one.container,
      one.codec,
      one.profile?.value,
      one.codecLevel && `level ${one.codecLevel.value}`,
      `${one.bits} bits`,
      one.chroma,
      one.colourSpace,
    ]
      .filter(Boolean)
      .join(', '),
    [one.bitrate?.text, one.largestFile && `at most ${one.largestFile.text}`].filter(Boolean).join(', '),
    soundWords(one),
    [one.shownOn.join(', '), one.territory.join(', '), one.published?.text].filter(Boolean).join('; '),
  ]);
  return [
    { kind: 'heading', level: 2, words: 'Deliverables' },
    { kind: 'table', caption: 'Finished files', head: ['File', 'Picture', 'Coding', 'Size', 'Sound', 'Shown'], rows },
  ];
}

function soundWords({ sound, loudness, truePeak }: Deliverable): string {
  return sound === 'none'
    ? 'none'
    : [sound, loudness?.text, truePeak && `peak ${truePeak.text}`].filter(Boolean).join(', ');
}

function tickBlocks(film: Film, findings: readonly Finding[]): SheetBlock[] {
  const said = film.care?.precautions.map((one) => precautionWords[one.value] ?? one.value) ?? [];
  const cautions = [...new Set(findings.filter((one) => care.has(one.rule)).map((one) => one.rule))].map(
    (rule) => `Gone through: ${rules.find((one) => one.id === rule)?.summary ?? rule}`,
  );
  const arranged: SheetBlock[] =
    [...said, ...cautions].length > 0 ? [{ kind: 'ticks', title: 'Precautions', items: [...said, ...cautions] }] : [];
  return [
    { kind: 'heading', level: 2, words: 'To tick off' },
    ...arranged,
    ...checklists(film).map((list): SheetBlock => ({ kind: 'ticks', ...list })),
    {
      kind: 'text',
      words:
        'Cautions are the usual ones and promise nothing: local codes, the makers of the gear and licensed practice decide.',
    },
  ];
}
