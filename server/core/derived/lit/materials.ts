/** How things take light: their colour in linear light, and what they mirror. */
import { linearFromSrgb, luminance, parseHex, type Rgb } from '../../../calc/colour.ts';
import type { Backdrop, Film, Surface } from '../../film.ts';
import { grey, scaled } from './rgb.ts';
import type { Grain } from './scene.ts';

export interface Material {
  /** What it gives back all round. */
  readonly diffuse: Rgb;
  /** What it mirrors straight on. */
  readonly mirrors: Rgb;
  /** How far a mirrored ray is spread, to each side. */
  readonly spreadDeg: number;
  /** 0 where all light passes it. */
  readonly opacity: number;
}

/** Glass, lacquer and water mirror 4 % straight on: ((n − 1) ÷ (n + 1))² at n = 1.5 (Fresnel). */
const gloss = 0.04;

/** Shares and spreads by finish: common practice, no source. */
function finished(colour: Rgb, finish: string): Material {
  switch (finish) {
    case 'satin':
    case 'mixed':
      return { diffuse: colour, mirrors: grey(gloss), spreadDeg: 12, opacity: 1 };
    case 'glossy':
      return { diffuse: colour, mirrors: grey(gloss), spreadDeg: 1.2, opacity: 1 };
    case 'metallic':
      return { diffuse: scaled(colour, 0.25), mirrors: brightened(colour), spreadDeg: 7, opacity: 1 };
    case 'transparent':
      return { diffuse: scaled(colour, 0.5), mirrors: grey(gloss), spreadDeg: 1, opacity: 0.3 };
    case 'translucent':
      return { diffuse: colour, mirrors: grey(gloss), spreadDeg: 10, opacity: 0.85 };
    default:
      return { diffuse: colour, mirrors: grey(0), spreadDeg: 40, opacity: 1 };
  }
}

/** Metal mirrors half of the light at least, in its colour. */
function brightened(colour: Rgb): Rgb {
  const y = luminance(colour);
  return y > 0 && y < 0.5 ? scaled(colour, 0.5 / y) : colour;
}

export function linearOf(hex: string | undefined): Rgb | undefined {
  const encoded = hex === undefined ? undefined : parseHex(hex);
  return encoded && linearFromSrgb(encoded);
}

/** Where its colour is not said. */
const usualProduct = 0.4;

export function productMaterial({ product }: Film): Material {
  return finished(linearOf(product.colour?.value) ?? grey(usualProduct), product.finish);
}

/** A part is told from the product that it is on: lighter than a dark one, darker than a light one. */
export function partMaterial(film: Film): Material {
  const whole = productMaterial(film);
  const y = luminance(whole.diffuse);
  const { r, g, b } = whole.diffuse;
  const lift = (value: number) => 1.6 * value + 0.015;
  const diffuse = y < 0.25 ? { r: lift(r), g: lift(g), b: lift(b) } : scaled(whole.diffuse, 0.72);
  return { ...whole, diffuse };
}

/** What a backdrop of a tone usually gives back: common practice, no source. */
const tones: Readonly<Record<string, number>> = { white: 0.85, mid: 0.18, black: 0.03 };

export function backdropMaterial({ colour, reflects, tone, material }: Backdrop): Material {
  const own = linearOf(colour?.value) ?? usualColour(material?.value);
  const share = reflects?.value ?? (own ? undefined : tones[tone?.value ?? 'mid']);
  const plain = own ?? grey(1);
  const y = luminance(plain);
  const diffuse = share === undefined ? plain : y > 0 ? scaled(plain, share / y) : grey(share);
  return { diffuse, mirrors: grey(0), spreadDeg: 40, opacity: 1 };
}

export function surfaceMaterial({ colour, finish, material }: Surface): Material {
  return finished(linearOf(colour?.value) ?? usualColour(material?.value) ?? grey(0.25), finish);
}

/** Usual colours of what sets are made of, where none is said: common practice, no source. */
function usualColour(material: string | undefined): Rgb | undefined {
  const found = usualColours.find(([pattern]) => pattern.test(material ?? ''));
  return linearOf(found?.[1]);
}

const usualColours: readonly (readonly [RegExp, string])[] = [
  [/black|velvet|slate|charred/i, '#26272a'],
  [/white|acrylic|glass|marble|plaster/i, '#e4e2dd'],
  [/walnut|mahogany|rosewood/i, '#5d4330'],
  [/oak|cedar|pine|beech|birch|maple|ply|wood|board|floor|bench|table|desk|plank/i, '#a27c55'],
  [/linen|cotton|canvas|paper|sheet|cloth/i, '#d6cfc2'],
  [/concrete|stone|tile|steel|metal|grey/i, '#8c8c8a'],
];

/** Spots of uneven tone: their size, and their share of the light to each side. */
type Spots = Pick<Grain, 'strength' | 'widthMm' | 'heightMm'>;

/** Long along the grain of wood, else small and even: common practice, no source. */
export function surfaceSpots(material: string | undefined): Spots {
  const isWood = wood.test(material ?? '');
  return isWood ? { strength: 0.16, widthMm: 26, heightMm: 2.2 } : { strength: 0.05, widthMm: 4, heightMm: 4 };
}

const wood = /walnut|mahogany|oak|cedar|pine|beech|birch|maple|ash|larch|ply|wood|bench|table|desk|plank/i;

/** Creases and weave of a backdrop, as large as its texture is said to be. */
export function textureSpots(textureMm: number): Spots {
  return { strength: 0.06, widthMm: textureMm, heightMm: textureMm };
}
