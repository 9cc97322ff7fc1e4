/**
 * Writes the text of a new kit from three answers: what films, how large its sensor is, and what lights. The other
 * numbers are ordinary ones for gear of that kind (common practice, no source), so that the kit works at once; the
 * person puts in what the makers state.
 */
import { sizeMm } from '../core/units.ts';
import { escapeSnippet } from './completion/item.ts';

export type CameraKind = 'phone' | 'zoom' | 'prime';
export type LightKind = 'panel' | 'bulb' | 'none';

export interface KitAnswers {
  readonly camera: CameraKind;
  /** Wide x high, as the format writes it. */
  readonly sensor: string;
  readonly light: LightKind;
}

/** What is offered before anything is typed. */
export const usualSensor: Readonly<Record<CameraKind, string>> = {
  phone: '9.8 x 7.3 mm',
  zoom: '23.5 x 15.6 mm',
  prime: '23.5 x 15.6 mm',
};

/** For somebody who has described none. */
export const firstKit: KitAnswers = { camera: 'phone', sensor: usualSensor.phone, light: 'panel' };

/** Where the kit is written, unless there is one already. */
export function kitName({ camera }: KitAnswers): string {
  return camera === 'phone' ? 'phone' : 'camera';
}

export function newKitText(answers: KitAnswers): string {
  return `${[
    `title: ${titles[answers.camera]}${lights[answers.light].title}`,
    `# ${answers.sensor === usualSensor[answers.camera] ? 'These' : 'All but the sensor'} are ordinary numbers: put in what the makers of your gear state.`,
    '',
    'cameras:',
    ...cameraLines(answers),
    '',
    'lenses:   # true focal lengths, not those of another sensor that shows as much',
    lensLine(answers),
    ...lights[answers.light].lines,
  ].join('\n')}\n`;
}

/** What the makers state of lenses and lamps first, since the camera's limits are seldom needed. */
const toReplace = [
  'focal',
  'aperture',
  'nearest-focus',
  'output',
  'temperature',
  'beam',
  'size',
  'draw',
  'iso',
  'shutter',
];

/** The text as a snippet in the editor's syntax: Tab goes from one number that is not the person's own to the next. */
export function newKitSnippet(text: string): string {
  const keys = toReplace.filter((key) => text.includes(`${key}: `));
  const value = new RegExp(`(?<=^ +|[{,] )(${keys.join('|')}): ([^,}\\n]*[^ ,}\\n])`, 'gm');
  let [snippet, end] = ['', 0];
  for (const { 0: whole, 1: key, 2: own, index } of text.matchAll(value)) {
    const stop = `\${${keys.indexOf(key!) + 1}:${escapeSnippet(own!)}}`;
    snippet += `${escapeSnippet(text.slice(end, index))}${key}: ${stop}`;
    end = index + whole.length;
  }
  return `${snippet}${escapeSnippet(text.slice(end))}$0`;
}

/** `36x24`, `36 x 24mm` as `36 x 24 mm`; undefined where it is no size of a sensor. */
export function sensorTyped(text: string): string | undefined {
  const match = /^(\d+(?:[.,]\d+)?)\s*[x×*]\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?$/i.exec(text.trim());
  if (!match) return undefined;
  const written = `${match[1]} x ${match[2]} mm`.replaceAll(',', '.');
  const size = sizeMm(written);
  return size && size.widthMm > 0 && size.heightMm > 0 ? written : undefined;
}

const titles: Readonly<Record<CameraKind, string>> = {
  phone: 'A phone',
  zoom: 'A camera with a zoom lens',
  prime: 'A camera with one lens',
};

function cameraLines({ camera, sensor }: KitAnswers): string[] {
  const [iso, base] = camera === 'phone' ? ['50 to 3200', 50] : ['100 to 12800', 100];
  return [
    `  ${camera === 'phone' ? 'phone' : 'cam'}:`,
    `    sensor: ${sensor}`,
    `    base-iso: ${base}`,
    `    iso: ${iso}`,
    '    shutter: 1/8000 s to 1/24 s',
    '    modes:   # best first',
    '      - { raster: 3840x2160, rate: [24, 25, 30], codec: h265, bits: 10, bitrate: 75 Mb/s }',
    '      - { raster: 3840x2160, rate: [50, 60], codec: h265, bits: 10, bitrate: 120 Mb/s }',
  ];
}

/** As much in the picture as lenses of that kind usually show: a focal length goes with the width of the sensor. */
function lensLine({ camera, sensor }: KitAnswers): string {
  const focal = (share: number) => {
    const mm = (sizeMm(sensor)?.widthMm ?? 23.5) * share;
    return mm < 20 ? Math.round(mm * 10) / 10 : Math.round(mm);
  };
  const lines: Readonly<Record<CameraKind, string>> = {
    phone: `main: { focal: ${focal(0.704)} mm, aperture: f/1.8, nearest-focus: 15 cm }`,
    zoom: `zoom: { focal: ${focal(0.75)} mm to ${focal(2)} mm, aperture: f/4 to f/22, nearest-focus: 35 cm }`,
    prime: `main: { focal: ${focal(1.4)} mm, aperture: f/2 to f/16, nearest-focus: 35 cm }`,
  };
  return `  ${lines[camera]}`;
}

const lights: Readonly<Record<LightKind, { readonly title: string; readonly lines: readonly string[] }>> = {
  panel: {
    title: ' and one light panel',
    lines: [
      '',
      'lamps:',
      '  panel:',
      '    output: 1400 lx at 1 m',
      '    temperature: 2800 K to 6500 K',
      '    beam: 100°',
      '    size: 30 x 20 cm',
      '    draw: 40 W',
    ],
  },
  bulb: {
    title: ' and one bulb',
    lines: [
      '',
      'lamps:',
      '  bulb:',
      '    kind: led',
      '    output: 1055 lm',
      '    temperature: 2700 K',
      '    size: 6 x 6 cm',
      '    draw: 10 W',
    ],
  },
  none: { title: '', lines: [] },
};
