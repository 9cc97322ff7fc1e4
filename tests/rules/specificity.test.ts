/**
 * One value of a sound plan changed or taken out: the rule that should speak does, and no other. Where physics makes
 * two true at once, the table says why.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { Checker, type CheckResult } from '../../server/core/checker.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';

const root = fileURLToPath(new URL('../../sample-workspace', import.meta.url));
const checker = new Checker(new NodeHost(root), rules);
/** ⟦What is written → what is written instead⟧ with what tells the place, the rules that speak then, and why where it is not one. */
type Edit = readonly [change: string, rules: string, why?: string];

const samples: Readonly<Record<string, readonly Edit[]>> = {
  'music-box': [
    ['region: ⟦DE → JP⟧', '', 'no lamp here pulses with the mains'],
    ['starts: 10:00:⟦00:00 → 00;00⟧', 'drop-frame-misused'],
    ['rate: ⟦25 → 30⟧, colour-space: bt709, starts', 'rates-do-not-conform'],
    [
      'shutter: ⟦1/50 → 1/500⟧ s',
      'pulsed-light-bands shutter-off-half-frame',
      'what moves stutters, and the exposure of `from-above`, which stands still, is off by the same shutter; a lamp at 30 % is cut unevenly in so short a time',
    ],
    ['shutter: ⟦1/50 → 1/20⟧ s', 'setting-not-in-kit'],
    ['shutter: ⟦1/50 s → auto⟧', 'setting-left-automatic'],
    ['iso: ⟦400 → 3200⟧\n', 'exposure-off'],
    ['⟦iso: 400 → ⟧\n', 'setting-left-automatic'],
    [
      'white-balance: ⟦5000 → 3200⟧ K',
      'white-balance-off-lamp',
      'too cool now, which the word for a warm picture does not explain',
    ],
    ['stabiliser: ⟦none → built-in⟧', 'unknown-word'],
    ['lens: ⟦normal → norml⟧', 'name-not-defined'],
    ['support: ⟦tripod → tripot⟧', 'name-not-defined'],
    ['colour-space: ⟦log → pq⟧\n', 'setting-not-in-kit'],
    ['codec: ⟦h265 → h264⟧\n  bits: 10', 'setting-not-in-kit'],
    ['behind: ⟦80 → 250⟧ cm, bottom: -30 cm', 'backdrop-edge-in-shot'],
    ['size: ⟦150 → 40⟧ x 120 cm, behind', 'backdrop-edge-in-shot'],
    ['texture: ⟦1 → 20⟧ mm', 'backdrop-too-sharp'],
    ['fill: { use: panel, modifier: diffuser, role: fill, temperature: ⟦4300 → 2900⟧ K', 'mixed-light'],
    ['level: ⟦45 → 100⟧ %, distance: 90 cm', 'lamp-ratio-off'],
    ['held: ⟦hand → stand⟧', 'lamp-moves-on-stand'],
    ['modifier: ⟦half-orange → softbx⟧', 'name-not-defined'],
    [
      'subject: ⟦comb → combs⟧',
      'name-not-defined',
      'of a subject that is not there no depth is known, so that its on-purpose word explains nothing any more',
    ],
    ['record: ⟦14 → 8⟧ s', 'recording-too-short'],
    [
      'speed: ⟦0.5 → 0.1⟧ rpm',
      'move-beyond-kit turn-misses-angle',
      'the table cannot turn so slowly, and if it could the turn would be too small',
    ],
    ['turn-shown: ⟦25° → 90°⟧', 'turn-misses-angle'],
    ['length: ⟦14 → 13⟧ beats', 'length-off title-time-clash', 'the film ends earlier, under the last title'],
    ['tempo: 100 bpm, first-beat: 0.4 s, length: ⟦48 → 20⟧ s', 'music-too-short'],
    ['flip: ⟦upright → mirror⟧', 'mounted-upside-down'],
    ['way-up: ⟦upside-down → upright⟧', 'mounted-upside-down'],
    ['hold: ⟦4 → 1⟧ beats, fade: 3 frames', 'title-too-brief'],
    ['letters: ⟦7 → 2⟧ %', 'title-too-small'],
    ['colour: "⟦#f5e9d8 → #2b2420⟧", over: "#1c1512"', 'title-low-contrast'],
    ['at: ⟦36 → 38⟧ beats, hold: 4 beats', 'title-time-clash'],
    [
      'dissolve: ⟦10 → 200⟧ frames',
      'fade-overruns-shot recording-too-short',
      'longer than the piece it leads into, and than the take before it',
    ],
    ['straighten: ⟦0.8° → 4°⟧', 'edges-empty'],
    ['{ to: ⟦bt709 → hlg⟧, brighten', 'colour-chain-broken'],
    ['tune: { kind: music, proof: ⟦rights/tune-licence.md → rights/tune-license.md⟧', 'licence-missing'],
    ['until: ⟦2028-06-30 → 2027-06-30⟧', 'licence-expired'],
    ['⟦hand → hands⟧: { kind: release', 'release-missing'],
    ['shown-on: [web, social⟦, event → ⟧], territory: worldwide, until', 'licence-does-not-cover'],
    ['returns: ⟦2026-12-04 → 2026-12-01⟧', 'product-leaves-too-early'],
    ['hours: 09:00 to ⟦15 → 12⟧:00', 'day-too-long'],
    ['order: [⟦front,  → ⟧close, overhead]', 'never-used'],
    ['circuit: ⟦16 → 2⟧ A', 'circuit-overloaded'],
    ['cable-reel: ⟦unwound → wound⟧', '', 'less load than the reel may carry wound'],
    ['charging: ⟦watched → unwatched⟧', 'battery-hazard'],
    ['precautions: [⟦overhead-bond, → ⟧', 'overhead-without-bond'],
    ['loudness: ⟦-14 → -9⟧ LUFS', 'loudness-off-target'],
    ['loudness: ⟦-14 → 14⟧ LUFS', 'loudness-off-target'],
    ['gain: ⟦-24 → 24⟧ dB', 'sound-drowns-music'],
    ['length: ⟦8 → 80⟧ beats, gain', 'sound-outlasts-film'],
    ['region: ⟦DE → UK⟧', 'unknown-word'],
    ['true-peak: ⟦-1 → 0⟧ dBTP', 'true-peak-too-high'],
    ['largest-file: ⟦80 → 50⟧ MB', 'file-too-big'],
    ['codec-level: ⟦4.1 → 3.1⟧', 'codec-level-exceeded'],
    ['profile: ⟦high → main⟧\n', '', 'H.264 Main holds 8 bits in 4:2:0'],
    ['chroma: 4:2:⟦0 → 2⟧', 'format-unplayable'],
    ['bits: ⟦8 → 10⟧\n', 'format-unplayable'],
    ['bitrate: ⟦20 → 2⟧ Mb/s', 'bitrate-starved'],
    ['raster: ⟦1080x1920 → 1080x1921⟧', 'odd-dimensions'],
    ['length: ⟦24 → 25⟧ s', 'length-off'],
    ['length: ⟦9.6 → 10⟧ s', 'length-off'],
    ['must-show: [⟦crank → cranks⟧,', 'must-show-missing'],
    ['must-not-show: [old-logo, ⟦price-tag → comb⟧]', 'must-not-show-seen'],
    ['microphone: ⟦clip-on → clip⟧', 'name-not-defined'],
    ['⟦    microphone: clip-on\n → ⟧', 'kept-sound-not-recorded'],
    ['lasts: ⟦9 → 20⟧ s,', 'recording-too-short'],
    ['takes: ⟦4 → 400⟧\n', 'battery-runs-out day-too-long', 'takes fill the day and empty the batteries'],
    ['sample-rate: ⟦48 → 22⟧ kHz', 'format-unplayable'],
    ['zoom-by: { film: ⟦1.7 → 3⟧, story: 1, fair: 1 }, dissolve', 'zoom-outruns-raster'],
    ['zoom-by: { film: 1.7, story: ⟦1 → 0.9⟧, fair: 1 }, dissolve', 'edges-empty'],
    ['name-plate: { size: 30 x 12 x 2 mm, letters: ⟦3 → 0.5⟧ mm, height: 7 cm }', 'label-too-small-to-read'],
    ['published: 2026-12-12 to ⟦2027-12-11 → 2029-12-11⟧', 'licence-expired'],
    ['section: 14 beats to ⟦30 → 50⟧ beats', 'length-off'],
    ['codec: ⟦h264 → h265⟧\n    profile: high', 'format-unplayable'],
    ['keep-clear: { top: 14 %, bottom: 20 %⟦ → , left: 30 %, right: 40 %⟧ }', 'title-outside-safe-area'],
    ['aperture: f/9, iso: 500, focus: ⟦65.5 → 80⟧ cm', 'depth-of-field-short'],
    ['key-near: { moved-from: ⟦key → kee⟧, distance: 50 cm, level: 80 % }', 'name-not-defined'],
    ['lit: [key-near, ⟦back → bak⟧, fill]', 'name-not-defined'],
    ['people: ⟦hand → hands⟧\n', 'release-missing'],
    [
      'aperture: ⟦f/4 → f/1.4⟧, iso: 200 }',
      'setting-not-in-kit',
      'at an aperture that the lens lacks no depth is known, so that its on-purpose word explains nothing any more',
    ],
    [
      'sound: keep⟦ → , speed: 80 %⟧',
      'slow-motion-lacks-frames speed-shifts-pitch',
      'slow pictures lack frames, and slow sound is low',
    ],
    [
      'reset: ⟦2 → 90⟧ min',
      'battery-runs-out day-too-long',
      'the time between takes fills the day and empties the batteries',
    ],
    ['handles: ⟦1.5 → 3⟧ s', 'recording-too-short'],
    ['set-up: ⟦overhead → overheads⟧\n', 'name-not-defined'],
    [
      'subject: ⟦crank → product⟧\n',
      'depth-of-field-short must-show-missing product-outside-crop',
      'the crank is named nowhere else, and the whole box is larger and deeper than the crank',
    ],
    ['charging: watched⟦ → \n  travel-by-air: hold⟧', 'battery-hazard'],
    ['cards: ⟦fast → fats⟧, batteries: pack, offload', 'name-not-defined'],
    ['⟦offload: 12:00 → breaks: 60 min⟧', 'name-twice'],
    [
      'zoom: 1.0 to ⟦1.1 → 2.5⟧, zoom-by',
      'product-outside-crop zoom-outruns-raster',
      'nearer in, the box is larger than the tall picture, and pixels are too few',
    ],
    ['size: ⟦80 x 60 → 20 x 20⟧ cm, height: 75 cm', 'backdrop-edge-in-shot'],
    ['weight: ⟦420 g → 42 kg⟧', 'support-overloaded'],
    ['height: ⟦75 → 175⟧ cm }\nroom', 'move-beyond-kit'],
    ['finish: ⟦glossy → metallic⟧\n  colour', 'camera-mirrored'],
  ],
  'lacquer-clock': [
    ['speed: 1 rpm⟦ → , by: 90°⟧', 'turn-said-twice'],
    ['precautions: [⟦non-slip-mat, load-centred, → ⟧', 'turntable-hazard'],
    ['weight: ⟦1.6 → 4⟧ kg', 'support-overloaded'],
    ['record: ⟦14 → 7⟧ s\n    turn', 'recording-too-short'],
    ['temperature: ⟦5000 → 2700⟧ K, level: 60 %', 'mixed-light'],
    ['angle: ⟦255° → 190°⟧', 'lamp-behind-backdrop'],
    ['starts: ⟦345° → 0°⟧', 'camera-mirrored'],
    [
      'distance: ⟦66 → 40⟧ cm, height: 15 cm',
      'nearer-than-lens-focuses product-outside-crop',
      'nearer than the lens focuses, and so near that the dial is wider than the tall picture',
    ],
    ['⟦panel: "#3a2a20 → over: "#d9d4c8⟧"', 'title-low-contrast'],
    ['kit: ⟦kits/phone.kit.yaml → kits/fone.kit.yaml⟧', 'kit-not-found'],
    ['territory: ⟦worldwide → DE⟧, until: 2028-12-31', 'licence-does-not-cover'],
    ['⟦maker-mark → makers-mark⟧: { kind: mark,', 'licence-missing'],
    ['iso: ⟦125 → 100\n  aperture: f/4⟧', 'setting-not-in-kit'],
    ['letters: ⟦3 → 1⟧ mm', 'label-too-small-to-read'],
    ['focus: ⟦locked → auto⟧', 'setting-left-automatic'],
    ['white-balance: ⟦5000 → 5600⟧ K', 'white-balance-off-lamp'],
    ['shutter: ⟦1/50 → 1/60⟧ s', '', '150°, and no lamp here pulses with the mains'],
    [
      'shutter: ⟦1/50 → 1/1000⟧ s',
      'shutter-off-half-frame',
      'what moves stutters, and the exposure of `face`, which stands still, is off by the same shutter',
    ],
    ['raster: ⟦3840x2160 → 3840x2060⟧', 'setting-not-in-kit'],
    ['bits: ⟦10 → 8⟧', 'setting-not-in-kit'],
    ['colour-space: ⟦bt709 → log⟧', 'colour-chain-broken'],
    [
      'speed: ⟦1 → 3⟧ rpm',
      'camera-mirrored turn-misses-angle',
      'three times the turn also brings the front past the lens',
    ],
    ['length: ⟦16 → 16.5⟧ beats', 'length-off'],
    ['hold: ⟦4 → 8⟧ s', 'title-time-clash'],
    ['due: ⟦2026-12-14 → 2026-12-1⟧', 'wrong-unit'],
    ['hazards: [⟦glass → liquid⟧]', 'liquid-near-mains'],
    ['true-peak: ⟦-1 → 0⟧ dBTP', 'true-peak-too-high'],
    ['length: ⟦92 → 22⟧ s', 'music-too-short'],
  ],
  'bud-vase': [
    ['refresh: ⟦50 → 60⟧ Hz', 'screen-out-of-step'],
    ['refresh: ⟦50 → 72⟧ Hz', 'screen-out-of-step'],
    ['brightness: ⟦80 → 20⟧ %', 'screen-tone-off'],
    [
      'behind: ⟦45 → 3⟧ cm',
      'backdrop-in-product lamp-behind-backdrop screen-moire',
      'the screen comes into focus, in front of the rim lamp, and into the vase',
    ],
    ['footage: ⟦slow-clouds → slow-cloud⟧', 'name-not-defined'],
    ['until: ⟦2027-12-31 → 2027-06-30⟧', 'licence-expired'],
    ['slide: -2 cm to 2 cm, support: ⟦slider → tripod⟧', 'move-beyond-kit'],
    ['territory: ⟦[DE, AT, CH] → AT⟧', 'licence-does-not-cover'],
    ['hazards: [⟦glass → glas⟧]', 'unknown-word'],
    ['height: ⟦40 → 80⟧ cm }', 'height-beyond-distance'],
    ['exposure: ⟦+1 stop → +2 stops⟧', 'exposure-off'],
    ['aperture: ⟦f/7.1 → f/22⟧', 'diffraction-soft screen-tone-off', 'less light, and a larger disc of diffraction'],
    [
      'aperture: ⟦f/7.1 → f/2.8⟧',
      'screen-tone-off',
      'more light; that a vase of this size is 3 pixels soft at its back nobody sees',
    ],
    ['exposure: ⟦+1 → -1⟧ stop', 'exposure-off'],
    ['white-balance: ⟦6500 → 3200⟧ K', 'white-balance-off-lamp'],
    [
      'sound: none, shown-on: web, territory: ⟦DE → [DE, US]⟧, published: 2026-12-07 to 2027-09-30',
      'licence-does-not-cover',
    ],
    ['square: { like: ⟦film → flim⟧, raster: 1080x1080 }', 'name-not-defined'],
    [
      'square: { like: film, raster: ⟦1080x1080 → 540x1920⟧ }',
      'product-outside-crop zoom-outruns-raster',
      'narrower than the vase, and taller than there are pixels for',
    ],
    ['rate: ⟦25 → 30⟧, length: 15 s', 'rates-do-not-conform'],
    ['from: ⟦2 → 5⟧ s, zoom: 1.3', 'recording-too-short'],
  ],
  'tea-pour': [
    [
      'rate: ⟦120 → 30⟧',
      'setting-not-in-kit slow-motion-lacks-frames',
      'no mode has it, its frames are four times too few, and the shutter is short against them',
    ],
    ['speed: ⟦25 → 10⟧ %', 'slow-motion-lacks-frames'],
    ['speed: ⟦50 → 40⟧ %', 'slow-motion-lacks-frames'],
    [
      'contents: green tea at 80 °C\n  hazards: [hot, liquid, steam]⟦ → \n  flash-point: 20 °C⟧',
      'flammable-near-ignition',
    ],
    ['modifier: ⟦softbox → diffuser⟧', 'gear-does-not-fit'],
    ['level: ⟦80 → 2⟧ %', 'setting-not-in-kit'],
    ['on-purpose: ⟦flowing-motion → frozen-motion⟧', 'splash-not-frozen'],
    ['shutter: ⟦1/240 → 1/2000⟧ s', 'splash-not-frozen'],
    ['lasts: ⟦8 → 18⟧ s, fastest: 12 cm/s', 'recording-too-short'],
    ['subject: ⟦steam → stem⟧\n', 'name-not-defined'],
    ['must-show: [stream, steam, ⟦spout → spuot⟧]', 'must-show-missing'],
    ['circuit: ⟦15 → 1⟧ A', 'circuit-overloaded'],
    ['iso: ⟦800 → 25600⟧\n', 'setting-not-in-kit'],
    [
      'zoom: 1.0 to ⟦1.2 → 3⟧',
      'product-outside-crop zoom-outruns-raster',
      'nearer in, steam is larger than the picture, and there are too few pixels',
    ],
    ['iso: 640, bits: ⟦10 → 12⟧', 'setting-not-in-kit'],
  ],
  'rocking-horse': [
    ['held: ⟦boom → stand⟧', 'lamp-moves-on-stand'],
    ['precautions: [cables-taped, exit-lit, stands-weighted⟦, overhead-bond → ⟧]', 'overhead-without-bond'],
    ['shutter: ⟦180° → 45°⟧', 'shutter-off-half-frame'],
    ['rate: ⟦24 → 25⟧\n  bits', 'rates-do-not-conform'],
    ['tempo: ⟦120 → 121⟧ bpm', 'length-off'],
    ['fade-out: ⟦1 → 9⟧ s', 'fade-overruns-shot'],
    [
      'moon: { use: ⟦panel → tube⟧,',
      'exposure-off gear-used-twice',
      'the kit has one tube, and it is weaker than the panel',
    ],
    ['behind: 100 cm, bottom: 0 cm, tone: ⟦black → white⟧, reflects: 2 %', 'backdrop-tone-off'],
    [
      'on-purpose: ⟦uneven-light → grain⟧',
      'light-uneven-across-product',
      'the word that explained the uneven light is gone, and the new one explains nothing',
    ],
    ['also-on-circuit: ⟦200 → 1900⟧ W', 'circuit-overloaded'],
    ['white-balance: ⟦4300 → 3200⟧ K', 'white-balance-off-lamp'],
    ['size: ⟦6 → 2⟧ x 3 m, behind: 100 cm', 'backdrop-edge-in-shot'],
    [
      'angle: ⟦120° to 240° → 350° to 10°⟧',
      'exposure-off goes-the-long-way',
      'the long way round from the front, where it lights the face too',
    ],
    ['territory: worldwide⟦, until: 2029-01-31 → ⟧', '', 'a licence without an end'],
    ['rate: 24, length: ⟦20 → 20.5⟧ s', 'length-off'],
    ['exposure: ⟦-1.5 → +1.5⟧ stops', 'exposure-off'],
    ['to: ⟦bt709 → log⟧, brighten', 'unknown-word'],
  ],
  'boxwood-thimble': [
    ['focus: ⟦54.6 → 50⟧ cm', 'depth-of-field-short'],
    ['aperture: ⟦f/7.1 → f/4⟧', 'exposure-off', 'more light, and less depth'],
    ['zoom: 1.7 to ⟦2.0 → 2.6⟧', 'zoom-outruns-raster'],
    [
      'slide: ⟦-15 mm to 15 → -90 mm to 90⟧ mm',
      'move-judders product-outside-crop',
      'a longer way in the same time is faster, and ends outside the picture',
    ],
    ['key: { use: panel, role: key, temperature: 4500 K, level: ⟦60 → 120⟧ %', 'out-of-range'],
    ['distance: 20 cm, focus: ⟦19.95 → 25⟧ cm', 'depth-of-field-short'],
    ['size: ⟦60 → 20⟧ x 60 cm, behind: 30 cm', 'backdrop-edge-in-shot'],
    ['level: 35 %, distance: ⟦80 → 20⟧ cm', 'height-beyond-distance'],
    [
      'lens: ⟦macro → normal⟧',
      'backdrop-too-sharp product-small-in-frame',
      'a shorter lens from the same place shows more and blurs less; a cloth may show its front edge',
    ],
    ['texture: ⟦1 → 30⟧ mm }', 'backdrop-too-sharp'],
    ['codec: h264, bitrate: ⟦20 → 1⟧ Mb/s', 'bitrate-starved'],
    ['raster: ⟦1920x1080 → 3840x2160⟧', 'zoom-outruns-raster'],
    ['white-balance: ⟦4500 K → auto⟧', 'setting-left-automatic'],
    ['support: ⟦slider → tripod⟧ }', 'move-beyond-kit'],
    ['height: ⟦80 → 180⟧ cm }\nroom', 'move-beyond-kit'],
  ],
  'clay-whistle': [
    ['distance: ⟦75 → 200⟧ cm\n', 'product-small-in-frame'],
    [
      'distance: ⟦75 → 30⟧ cm\n',
      'nearer-than-lens-focuses product-outside-crop',
      'nearer than the lens focuses, and so near that the whistle is taller than the picture',
    ],
    ['shots:\n  side: { record: ⟦10 → 4⟧ s }', 'recording-too-short'],
    [
      'raster: ⟦3840x2160 → 1920x1080⟧',
      'setting-not-in-kit zoom-outruns-raster',
      'the phone has no such mode at 25, and the zooms have no pixels left',
    ],
    ['zoom: ⟦1.5 → 0.8⟧ }', 'edges-empty'],
    ['beak: { record: 10 s, turn: { starts: ⟦30° → 10°⟧ } }', 'cut-jars'],
    ['⟦tube → tub⟧: {', 'name-not-defined'],
    ['temperature: ⟦5600 → 7500⟧ K, level: 60 %, distance: 90 cm', 'setting-not-in-kit'],
    ['- { shot: ⟦beak → beek⟧, length: 6 s, zoom: 1.5 to 1.8 }', 'name-not-defined'],
    ['length: ⟦12 → 20⟧ s', 'length-off'],
    ['focus: ⟦locked → 60 cm⟧', 'depth-of-field-short'],
    ['iso: ⟦100 → 1000⟧', 'exposure-off'],
    ['iso: ⟦100 → 6400⟧', 'setting-not-in-kit'],
    ['⟦lens: tele → ⟧\n', 'gear-to-choose'],
    [
      'level: 60 %, distance: ⟦60 → 15⟧ cm',
      'exposure-off lamp-in-shot',
      'sixteen times the light, from inside the picture',
    ],
    ['angle: ⟦300° → 180°⟧', 'lamp-in-shot'],
  ],
};

describe.each(Object.entries(samples))('one wrong value in %s', (sample, edits) => {
  const file = `${sample}.shoot.yaml`;
  const text = readFileSync(`${root}/${file}`, 'utf8');
  const asItIs = checker.check(file, text)!;

  test.each(edits.map(([edit, expected]) => [edit, expected] as const))('%j: %s', (edit, expected) => {
    const [, before, from, to, after] = /^(.*)⟦(.*) → (.*)⟧(.*)$/s.exec(edit)!;
    expect(text.split(`${before}${from}${after}`), 'the value stands there once').toHaveLength(2);
    const changed = text.replace(`${before}${from}${after}`, () => `${before}${to}${after}`);
    expect(newRules(asItIs, checker.check(file, changed)!)).toEqual(named(expected));
  });
});

test('whatever sets off more or less than one rule says why', () => {
  const edits = Object.values(samples).flat();
  expect(edits.filter(([, expected, why]) => named(expected).length !== 1 && !why)).toEqual([]);
  expect(new Set(edits.flatMap(([, expected]) => named(expected))).size).toBeGreaterThan(60);
});

function named(expected: string): string[] {
  return expected.split(' ').filter(Boolean);
}

/** Rules with more findings, or more serious ones, than before, by name. */
function newRules(before: CheckResult, after: CheckResult): string[] {
  const counts = new Map<string, number>();
  const add = ({ findings, forSet = [] }: CheckResult, by: number) => {
    for (const { rule, severity } of [...findings, ...forSet]) {
      const key = `${rule} ${severity}`;
      counts.set(key, (counts.get(key) ?? 0) + by);
    }
  };
  add(before, -1);
  add(after, 1);
  const more = [...counts].filter(([, count]) => count > 0).map(([key]) => key.split(' ')[0]!);
  return [...new Set(more)].sort();
}
