/** Recording modes as rows: which asked-for value a camera lacks, and the rows that come nearest to what was asked. */
import { rateFps } from '../../calc/rate.ts';
import { child } from '../../core/document/node.ts';
import type { Camera, CameraBody, Mode, Shot, Val } from '../../core/film.ts';
import { modeHas } from '../../core/resolve/shots.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { percentText } from '../../core/say.ts';

type WantedMode = Pick<Camera, 'raster' | 'rate' | 'codec' | 'bits' | 'colourSpace'>;
type Key = keyof WantedMode;

const fieldOf: Record<Key, string> = {
  raster: 'raster',
  rate: 'rate',
  codec: 'codec',
  bits: 'bits',
  colourSpace: 'colour-space',
};
/** The keys that are given up most easily come first. */
const keys: readonly Key[] = ['colourSpace', 'codec', 'bits', 'rate', 'raster'];

/** `3840x2160 at 120, 10 bits, log`: all that a shot asks of a mode. */
export function askedText({ raster, rate, codec, bits, colourSpace }: WantedMode): string {
  const size = [raster?.text, rate && `at ${rate.text}`].filter(Boolean).join(' ');
  return [size, codec?.text, bits && `${bits.text} bits`, colourSpace?.text].filter(Boolean).join(', ');
}

/** The value to point at: one that no mode has, else one without which a mode is left, the shot's own words first. */
export function valueAtFault({ camera }: Shot, body: CameraBody): Val<unknown> | undefined {
  const said = keys.filter((key) => camera[key] !== undefined);
  const own = said.filter((key) => camera.fields.own && child(camera.fields.own, fieldOf[key]));
  const ordered = [...own, ...said.filter((key) => !own.includes(key))];
  const nowhere = ordered.find((key) => !body.modes.some((mode) => modeHas(mode, { [key]: camera[key] })));
  const lonely = ordered.find((key) =>
    body.modes.some((mode) => modeHas(mode, { ...asked(camera), [key]: undefined })),
  );
  const key = nowhere ?? lonely ?? ordered.at(-1);
  return key && camera[key];
}

function asked({ raster, rate, codec, bits, colourSpace }: Camera): WantedMode {
  return { raster, rate, codec, bits, colourSpace };
}

/** A mode with, of everything that was asked, what it has, and else its nearest value. */
export interface Row {
  readonly text: string;
  readonly fix: FixIdea;
  readonly cost: number;
}

/** The rows that come nearest, best first; each names what it changes and what that costs. */
export function nearestRows(shot: Shot, body: CameraBody, most = 3): Row[] {
  const rows = body.modes.flatMap((mode) => row(shot, mode) ?? []).sort((a, b) => a.cost - b.cost);
  return rows.filter((one, index) => rows.findIndex((other) => other.text === one.text) === index).slice(0, most);
}

interface Change {
  readonly key: Key;
  readonly value: string;
  readonly price: string;
  readonly cost: number;
}

function row(shot: Shot, mode: Mode): Row | undefined {
  const { camera } = shot;
  const changes = keys.flatMap((key) => change(shot, mode, key) ?? []);
  if (changes.length === 0) return undefined;
  const now = (key: Key) => changes.find((one) => one.key === key)?.value ?? camera[key]?.text;
  const size = [now('raster'), now('rate') && `at ${now('rate')}`].filter(Boolean).join(' ');
  const others = (['codec', 'bits', 'colourSpace'] as const)
    .filter((key) => changes.some((one) => one.key === key))
    .map((key) => (key === 'bits' ? `${now(key)} bits` : now(key)));
  const text = [size, ...others].filter(Boolean).join(', ');
  const prices = changes.map((one) => one.price).filter(Boolean);
  const written = [...changes].sort((a, b) => keys.indexOf(b.key) - keys.indexOf(a.key));
  const fields = written.map((one) => [camera, fieldOf[one.key], one.value] as const);
  return {
    text,
    fix: set(`Record ${text}${prices.length > 0 ? ` (${prices.join(', ')})` : ''}`, ...fields),
    cost: changes.reduce((sum, one) => sum + one.cost, 0),
  };
}

function change(shot: Shot, mode: Mode, key: Key): Change | undefined {
  const { camera } = shot;
  if (!camera[key] || modeHas(mode, { [key]: camera[key] })) return undefined;
  switch (key) {
    case 'raster': {
      if (!mode.raster) return undefined;
      const ratio = mode.raster.value.width / camera.raster!.value.width;
      const price = ratio < 1 ? `${percentText(ratio)} of the pixels across` : '';
      return { key, value: mode.raster.text, price, cost: 3 + Math.abs(Math.log2(ratio)) };
    }
    case 'rate':
      return rateChange(shot, mode);
    case 'bits': {
      const fewer = mode.bits < camera.bits!.value;
      return { key, value: String(mode.bits), price: fewer ? 'fewer steps of tone' : '', cost: fewer ? 1.5 : 0.8 };
    }
    case 'colourSpace': {
      const value = mode.colourSpaces.includes('bt709') ? 'bt709' : mode.colourSpaces[0];
      const price = camera.colourSpace!.value === 'log' ? 'less room in the grade' : '';
      return value === undefined ? undefined : { key, value, price, cost: 1 };
    }
    case 'codec':
      return { key, value: mode.codec, price: '', cost: 0.5 };
  }
}

function rateChange(shot: Shot, mode: Mode): Change | undefined {
  const fps = rateFps(shot.camera.rate!.value);
  const distance = (fpsOf: number) => Math.abs(Math.log2(fpsOf / fps));
  const nearest = [...mode.rates].sort((a, b) => distance(rateFps(a.value)) - distance(rateFps(b.value)))[0];
  if (!nearest) return undefined;
  const ratio = rateFps(nearest.value) / fps;
  // Slow motion lives on the rate, so it gives up the raster first.
  const slowed = ratio < 1 && shot.pieces.some((piece) => Math.abs(piece.speed) < 1);
  const price = ratio < 0.99 ? `${percentText(ratio)} of the frames` : '';
  return { key: 'rate', value: nearest.text, price, cost: 3 + 2 * distance(rateFps(nearest.value)) + (slowed ? 4 : 0) };
}
