/**
 * Plans as competent people wrote them, and what a practitioner thought of each finding: how much of what is said is
 * worth saying. README.md says how verdicts are written.
 */
import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { type JudgedPlan, judgedPlan } from './judged.ts';

/** Of what is said at least so much is useful. */
const leastPrecision = 0.9;

/** The plans whose findings the rules are held to. */
const names: readonly string[] = [
  'ball-drop',
  'bench-roll-flat-lay',
  'comb-screw',
  'finishing-oil-pour',
  'heron-brooch',
  'paper-strip',
  'quillow-music-box',
  'spoon-clip',
  'tall-clock',
  'harebell-quilt',
  'ink-bottle',
  'oat-soap-social',
  'saddle-belt',
  'steam-mug',
  'tolm-bowl',
  'toy-village',
  'window-knit',
  'writing-box-spot',
  // Written and judged by others, who had not seen the checker.
  'bicycle-bell',
  'board-game',
  'dark-teapot',
  'unboxing',
  'watch-screw',
  'whetstone',
  'wooden-train',
  'wool-blanket',
  'bread',
  'cuff-links',
  'floor-lamp',
  'honey-drip',
  'knitted-hat',
  'letterpress',
  'radio-dial',
  'shoe-turn',
  'comb-solder',
  'enamel-pin',
  'lacquer-tray',
  'paperweight',
  'thumb-harp',
  'wardrobe',
  'whirl-top',
  'wool-slippers',
  // Written after the rules had been mended by those above: the second look.
  'luthier-lay',
  'night-candlestick',
  'paper-mobile',
  'robot-screen',
  'rope-ladder',
  'garden-bell',
  'jam-spot',
  'music-box-crank',
  // Written and judged by others again, who found half of what was said not worth saying.
  'ash-stool',
  'barley-soda',
  'calliper',
  'earring',
  'needles',
  'rain-cape',
  'saffron',
  'thumb-piano',
  // Unseen until the rules had been mended by those above: 19 of 37 were worth saying, and 7 were wrong.
  'ash-sled',
  'gall-ink',
  'kitchen-radio',
  'moor-blanket',
  'murrina',
  'noon-bowl',
  // Unseen again, everyday jobs: 11 of 17, and 4 wrong of one lamp with a candle in it.
  'bench-chisels',
  'brass-candle-lamp',
  'hide-wallet',
  'thrown-cup',
  'tin-beetle',
  // Unseen again: 12 of 19 worth saying, 3 noise, and 4 wrong; and four films too dark, of which nothing was said.
  'ebbworth-tide-clock',
  'plum-mustard',
  'rush-coaster',
  'tarn-jug',
  'twine-hive',
  'ulmengrieb-notebook',
  // Unseen once more: 11 of 15, and 1 wrong.
  'cardigan',
  'drum-loop',
  'mill',
  'quince',
  'ring',
  'smoke-decanter',
  // Of six times sixteen, unseen each time: 48 of 62 worth saying, then 38 of 56, 34 of 57, 45 of 63, 57 of 68 and 46 of 65. These
  // are the 74 of which nothing is said since that is wrong or that nobody has judged.
  'bag-marigolds',
  'before-six-box-grinder',
  'bell',
  'bind-your-first-book',
  'blanket-on-chair',
  'bollo-walks',
  'brambleford-letter-set',
  'brass-gyroscope',
  'candle-holder',
  'chair-that-stopped',
  'crank-music-box-for',
  'dot-night-lamp',
  'drying-day',
  'dunmarrow-bud-vase',
  'elephant-last-hour-sun',
  'endgame-box',
  'fellside-18',
  'felt-slipper',
  'fig-toast',
  'fold',
  'grafters-knife',
  'half-past-five',
  'hand-trowel-bed-shed',
  'hat-grows-at-window',
  'heron-girl',
  'heron-print',
  'hollin-bench',
  'hollowick-table-lantern',
  'ilvane-satchel',
  'it-opens-while-you-are',
  'lantern-is-folded',
  'lehmkante-pottery',
  'lemon-loaf',
  'letters-walk-in',
  'lull',
  'marbles-on-slate',
  'mole-says-hi',
  'moonjar-lamp',
  'mug-in-three-glazes',
  'nine-cupcakes-for-aunt',
  'ninth-row-cardigan',
  'number-thirty-one',
  'ondeva-tumbler',
  'orrel-thumb-plane',
  'orrin-hand-mill',
  'orrin-kettle',
  'orus-radish',
  'orvane-spices',
  'owl-whistle',
  'paperweight-g',
  'pen',
  'rear-hub',
  'rhubarb-fizz',
  'rye',
  'salt-almanac',
  'sew-notebook-in-ninety',
  'shavings',
  'six-piece-knot',
  'skarvholm-rain-jacket',
  'skiff-kit',
  'snap',
  'soap',
  'tandel-night-clock',
  'tarn',
  'tarnwick-crank-box',
  'tavel-table-loom',
  'three-bangles-on-river',
  'three-knives',
  'tollo-music-box',
  'varholt-sextant',
  'vellin-60-goes-together',
  'wet-bowl',
  'whelk',
  'zwick-balance-bike',
  // Unseen in four rounds more, between which each rule was looked through for what a good plan would be told in vain: 127 of 179
  // were worth saying, and 12 wrong.
  'leaf-lamp',
  'bar-end-plug',
  'saturday-rye',
  'bodo-goes-home',
  'ring-thirty-one',
  'velnauk-two-pole',
  'ninefold-ferry',
  'brask-grindery',
  'welted-derby',
  'cherry-music-box',
  'balm-and-hyssop',
  'carpet-lays-itself',
  'oddel-desk-clock',
  'pobble-drop',
  'corran-hat',
  'hessock-trowel',
  'lime-honey-and-candle',
  'fountain-pen-three',
  'trail-saddle',
  'kingfisher-pendant',
  'tall-oak-cabinet',
  'four-oils',
  'firefly-board',
  'carafe-four',
  'star-mittens',
  'ashgrove-chess',
  'tollan-kites',
  'marrowby-chocolates',
  'winding-up',
  'one-basket',
  'reading-dome',
  'first-running-shoe',
  'four-tins',
  'vask-straps',
  'box-at-dusk',
  'oyster-mushrooms',
  'abellard-armchair',
  'door-sign',
  'beeswax-before-match',
  'one-book',
  'puddle',
  'dripless-teapot',
  'garden-lantern-dusk',
  'pressed-ampersand',
  'goods-train',
  'slate-spoon',
  'dimmed-paper-lamp',
  'chocolate-unboxing',
  'touring-binding',
  'crank-loops',
  // Unseen once more: 28 of 40 were worth saying, 8 noise, 4 wrong; what is a matter of taste went to the sheet then.
  'spokeshave-three',
  'wall-clock-loop',
  'strip-of-shoulder',
  'pleated-lantern',
  'quince-in-tin',
  'hall-broom',
  'rhubarb-pressed',
  'plant-comes-back',
  'fenceline-jacket',
  'pull-tortoise',
  'evening-chair',
  'chalk-ball',
  'spinner-ring',
  'carafe-slowly',
  'pot-drinks',
  'shelf-barometer',
  // And once more: 22 of 42, 10 noise, 10 wrong.
  'the-knock',
  'oat-and-clay',
  'quire-four',
  'grey-wether',
  'lever-harp',
  'lamp-lights-itself',
  'spoked-hub',
  'silk-wallpaper',
  'drawknife-three',
  'sundial-day',
  'folding-lantern',
  'ash-block',
  'tavrik-watch',
  'otterholt',
  'ferrow-carafe',
  'marrow-timer',
  // And a third time: 21 of 27, 3 noise, 3 wrong.
  'maple-top',
  'cherry-pies',
  'meadow-cape',
  'cellar-sand-timer',
  'felted-slippers',
  'one-bar-top',
  'jigsaw-from-above',
  'bent-ash-sledge',
  'brass-top-thirty-four',
  'drip-tower',
  'drying-rack',
];

const count = (plans: readonly JudgedPlan[], verdict: string) =>
  plans.flatMap((plan) => plan.findings).filter((one) => one.verdict === verdict).length;

const listed = (plan: JudgedPlan, verdict: string) =>
  plan.findings
    .filter((one) => one.verdict === verdict)
    .map(({ finding, line }) => `${plan.name}: ${finding.rule} at ${line}\n  ${finding.message}`);

describe('what is said of plans', () => {
  let plans: JudgedPlan[] = [];
  beforeAll(() => {
    plans = names.map(judgedPlan);
    const [useful, noise, wrong] = ['useful', 'noise', 'wrong'].map((verdict) => count(plans, verdict));
    const lost = plans.flatMap((plan) => plan.lost).length;
    console.log(
      `${names.length} plans: ${useful} useful, ${noise} noise, ${wrong} wrong, ${lost} useful lost; precision ${precision(plans).toFixed(2)}`,
    );
  });

  test.each(names)('%s: nothing is wrong, or said that nobody has judged', (name) => {
    const plan = plans.find((one) => one.name === name)!;
    expect(listed(plan, 'wrong')).toEqual([]);
    expect(listed(plan, 'unjudged')).toEqual([]);
  });

  test.each(names)('%s: all that was useful is still said', (name) => {
    const { lost } = plans.find((one) => one.name === name)!;
    expect(lost.map(({ rule, line, why }) => `${rule} at ${line}\n  ${why}`)).toEqual([]);
  });

  test(`at least ${leastPrecision * 100} % of it is useful`, () => {
    expect(precision(plans)).toBeGreaterThanOrEqual(leastPrecision);
  });

  test('all these plans are there, with their verdicts', () => {
    const there = readdirSync(import.meta.dirname).filter((name) =>
      existsSync(path.join(import.meta.dirname, name, 'verdicts.yaml')),
    );
    expect(there).toEqual(expect.arrayContaining([...names]));
  });
});

function precision(plans: readonly JudgedPlan[]): number {
  const all = plans.flatMap((plan) => plan.findings).length;
  return all === 0 ? 1 : count(plans, 'useful') / all;
}
