/**
 * The resolved film: everything that a spec and its kits say, merged, parsed and looked up, each value still knowing
 * the characters it came from. Rules, pictures and hovers read this and nothing else.
 *
 * A field is undefined when nothing was said, or when what was said can't be read (the schema check reports that);
 * `fields.said(…)` on a block tells the two apart.
 */
import type { MusicHeard } from './decoded.ts';
import type { Photograph } from './photograph.ts';
import type { Rate } from '../calc/rate.ts';
import type { Sketch } from './sketch.ts';
import type { Range } from './document/node.ts';
import type { Fields } from './resolve/fields.ts';
import type { Fees } from './settings-fees.ts';
import type {
  BitsPerSecond,
  Box,
  Bytes,
  Degrees,
  Ends,
  FilmTime,
  Grams,
  Hertz,
  Kelvin,
  LightOutput,
  Lux,
  Mired,
  Mm,
  MmPerSecond,
  Raster,
  Region,
  Seconds,
  Share,
  Shutter,
  Stops,
  Watts,
} from './units.ts';
import type { Val } from './value.ts';

export type { Val };

/** A block of the file: where it is, and what is said in it. */
export interface Block extends Range {
  /** The block as written, and what it takes over: `fields.said(key)` tells left out from unreadable. */
  readonly fields: Fields;
}

/** A block with a name; its range is that of the name. */
export interface Named extends Block {
  readonly name: string;
  /** The kit that it is in, or the spec where that is looked at from a take sheet; absent for the file that is checked. */
  readonly file?: string;
}

// ---- gear ------------------------------------------------------------------------------------------------------

export interface Gear extends Named {
  readonly count: number;
  /** Names of the gear that it fits; undefined: all. */
  readonly fits?: readonly Val<string>[];
}

export interface Mode extends Block {
  readonly raster?: Val<Raster>;
  readonly rates: readonly Val<Rate>[];
  readonly codec: string;
  readonly bits: number;
  readonly chroma: string;
  readonly colourSpaces: readonly string[];
  readonly bitrate?: Val<BitsPerSecond>;
  readonly readout?: Val<Seconds>;
  /** How many times narrower than the whole sensor. */
  readonly crop: number;
  /** The table that turns a log recording into a picture, by its path in the repo. */
  readonly converts?: Val<string>;
}

export interface CameraBody extends Gear {
  readonly sensor?: Val<Box>;
  /** Of two the lower first; empty where nothing is said. */
  readonly baseIsos: readonly Val<number>[];
  readonly noisyAbove?: Val<number>;
  readonly iso?: Val<Ends>;
  readonly shutter?: Val<Ends<Shutter>>;
  readonly stabiliserCrop: number;
  readonly draw?: Val<Watts>;
  readonly weight?: Val<Grams>;
  readonly longestTake?: Val<Seconds>;
  readonly fileLimit?: Val<Bytes>;
  readonly modes: readonly Mode[];
}

export interface Lens extends Gear {
  readonly focal?: Val<Ends<Mm>>;
  readonly aperture?: Val<Ends>;
  readonly nearestFocus?: Val<Mm>;
  /** From the front of the lens to the sensor; 0 where not said. */
  readonly frontToSensorMm: Mm;
  readonly sensor?: Val<Box>;
  readonly weight?: Val<Grams>;
}

export interface Filter extends Gear {
  readonly kind?: string;
  readonly loses: Stops;
  readonly warms: Mired;
  /** Of a close-up lens, in dioptres. */
  readonly power?: Val<number>;
  /** Of an extension tube. */
  readonly length?: Val<Mm>;
}

export interface KitLamp extends Gear {
  readonly output?: Val<LightOutput>;
  readonly temperature?: Val<Ends<Kelvin>>;
  readonly duv?: Val<number>;
  readonly cri?: Val<number>;
  readonly tlci?: Val<number>;
  readonly r9?: Val<number>;
  /** Angle over which it lights at least half as much; 120 where not said. */
  readonly beamDeg: Degrees;
  readonly size?: Val<Box>;
  /** A frequency, `mains` or `none`. */
  readonly pulses?: Val<Hertz | 'mains' | 'none'>;
  readonly dimming?: Val<string>;
  readonly ripple?: Val<Share>;
  readonly kind?: Val<string>;
  readonly draw?: Val<Watts>;
  readonly powerFactor?: Val<number>;
  readonly battery?: Val<number>;
  readonly clearance?: Val<Mm>;
  readonly laserClass?: Val<string>;
  readonly riskGroup?: Val<number>;
  readonly level?: Val<Ends<Share>>;
  readonly weight?: Val<Grams>;
}

export interface Modifier extends Gear {
  readonly loses: Stops;
  readonly warms: Mired;
  readonly beamDeg?: Degrees;
  readonly size?: Val<Box>;
}

export interface Screen extends Gear {
  readonly size?: Val<Box>;
  readonly raster?: Val<Raster>;
  readonly refreshes: readonly Val<Hertz>[];
  readonly pulses?: Val<Hertz | 'none'>;
  readonly panel?: Val<string>;
  /** cd/m². */
  readonly white?: Val<number>;
  readonly temperatureK: Kelvin;
  readonly draw?: Val<Watts>;
}

export interface Support extends Gear {
  readonly standsOn?: 'floor' | 'table' | 'hand';
  readonly height?: Val<Ends<Mm>>;
  readonly travel?: Val<Mm>;
  readonly speed?: Val<Ends<MmPerSecond>>;
  readonly load?: Val<Grams>;
  readonly reach?: Val<Mm>;
  readonly foot?: Val<Mm>;
  readonly weight?: Val<Grams>;
}

export interface Turntable extends Gear {
  /** Turns a minute. */
  readonly speed?: Val<Ends>;
  readonly load?: Val<Grams>;
  readonly size?: Val<Box>;
}

export interface Microphone extends Gear {
  readonly sampleRate: Hertz;
  readonly bits: number;
}

export interface Card extends Gear {
  readonly holds?: Val<Bytes>;
  /** Bytes a second. */
  readonly writes?: Val<number>;
}

export interface Battery extends Gear {
  /** Watt-hours. */
  readonly energy?: Val<number>;
}

export interface Reel extends Gear {
  readonly wound?: Val<Watts>;
  readonly unwound?: Val<Watts>;
}

/** All kits of a spec together; one name in two kits counts where it stands first. */
export interface Kit {
  readonly files: readonly string[];
  /** False where a kit that is named could not be read: what is not here may be there. */
  readonly complete: boolean;
  readonly cameras: ReadonlyMap<string, CameraBody>;
  readonly lenses: ReadonlyMap<string, Lens>;
  readonly filters: ReadonlyMap<string, Filter>;
  readonly lamps: ReadonlyMap<string, KitLamp>;
  readonly modifiers: ReadonlyMap<string, Modifier>;
  readonly screens: ReadonlyMap<string, Screen>;
  readonly supports: ReadonlyMap<string, Support>;
  readonly turntables: ReadonlyMap<string, Turntable>;
  readonly microphones: ReadonlyMap<string, Microphone>;
  readonly cards: ReadonlyMap<string, Card>;
  readonly batteries: ReadonlyMap<string, Battery>;
  readonly reels: ReadonlyMap<string, Reel>;
}

// ---- the set ---------------------------------------------------------------------------------------------------

export type Facing = 'front' | 'back' | 'left' | 'right' | 'up';

export interface Part extends Named {
  readonly size?: Val<Box>;
  /** Height of its middle above the surface. */
  readonly heightMm?: Mm;
  readonly letters?: Val<Mm>;
  /** From one thread of its cloth to the next. */
  readonly weave?: Val<Mm>;
  readonly faces?: Facing;
  /** A cut-out photograph of it, by its path from the repo's root. */
  readonly picture?: Val<string>;
}

export interface Product extends Block {
  readonly size?: Val<Box>;
  readonly finish: string;
  readonly colour?: Val<string>;
  readonly weight?: Val<Grams>;
  readonly hazards: readonly Val<string>[];
  readonly arrives?: Val<number>;
  readonly returns?: Val<number>;
  /** Equal faces on its way round; `Infinity` for a round thing. */
  readonly symmetry?: Val<number>;
  readonly flashPoint?: Val<number>;
  readonly weave?: Val<Mm>;
  /** How high its lowest point hangs above the surface; it stands on it where nothing is said. */
  readonly hangs?: Val<Mm>;
  /** A cut-out photograph of its front, by its path from the repo's root. */
  readonly picture?: Val<string>;
  /** How many there are to film. */
  readonly units?: Val<number>;
  readonly parts: ReadonlyMap<string, Part>;
}

/** What a shot aims at, measures to, focuses on and frames. */
export interface Subject extends Range {
  readonly name: string;
  readonly box?: Box;
  /** Height of its middle above the surface. */
  readonly heightMm: Mm;
  readonly letters?: Val<Mm>;
  /** Where the face of a part looks when the product is not turned. */
  readonly faces?: Facing;
  /** It goes round an upright product: a lip, a rim, a ring of it. */
  readonly isRing?: boolean;
  /** Its own, else the product's. */
  readonly weave?: Val<Mm>;
}

export interface Camera extends Block {
  readonly body?: CameraBody;
  readonly lens?: Lens;
  /** What was written, for gear that the kit does not have. */
  readonly bodyName?: Val<string>;
  readonly lensName?: Val<string>;
  readonly supportName?: Val<string>;
  readonly support?: Support;
  readonly runsOn: 'battery' | 'mains';
  readonly focal?: Val<Ends<Mm>>;
  readonly wayUp: 'upright' | 'upside-down' | 'on-its-side';
  readonly wayUpAt?: Val<string>;
  readonly distance?: Val<Ends<Mm>>;
  /** Height of the lens above the surface; undefined: level with the subject. */
  readonly height?: Val<Ends<Mm>>;
  readonly angle?: Val<Ends<Degrees>>;
  readonly slide?: Val<Ends<Mm>>;
  readonly offCentre?: Val<Share>;
  readonly raster?: Val<Raster>;
  readonly rate?: Val<Rate>;
  readonly codec?: Val<string>;
  readonly bits?: Val<number>;
  readonly colourSpace?: Val<string>;
  readonly shutter?: Val<Shutter | 'auto'>;
  readonly aperture?: Val<number | 'auto'>;
  readonly iso?: Val<number | 'auto'>;
  readonly whiteBalance?: Val<Kelvin | 'auto'>;
  readonly focus?: Val<Ends<Mm> | 'locked' | 'follow' | 'auto'>;
  readonly filterNames: readonly Val<string>[];
  readonly filters: readonly Filter[];
  readonly stabiliser?: Val<string>;
  readonly meter: 'product' | 'backdrop';
  readonly exposure?: Val<Stops>;
  /** The first mode of the kit that has the shot's raster, rate, codec, bits and colour space. */
  readonly mode?: Mode;
}

export interface Backdrop extends Block {
  readonly screenName?: Val<string>;
  readonly screen?: Screen;
  readonly material?: Val<string>;
  readonly colour?: Val<string>;
  readonly size?: Val<Box>;
  readonly behind?: Val<Mm>;
  readonly bottom?: Val<Mm>;
  /** It runs on forwards under the product as its surface. */
  readonly sweeps: boolean;
  readonly tone?: Val<string>;
  readonly texture?: Val<Mm>;
  readonly reflects?: Val<Share>;
  readonly brightness?: Val<Share>;
  readonly refresh?: Val<Hertz>;
  readonly footage?: Val<string>;
  readonly picture?: Val<string>;
  readonly flashes?: Val<Hertz>;
}

export interface Surface extends Block {
  readonly material?: Val<string>;
  readonly finish: string;
  readonly size?: Val<Box>;
  /** From the middle of the product to its front edge; half its depth where it is not said. */
  readonly front?: Val<Mm>;
  /** Height above the floor that the supports stand on. */
  readonly height?: Val<Mm>;
  /** Above the table on which small supports stand. */
  readonly aboveTableMm: Mm;
  readonly colour?: Val<string>;
  readonly thickness?: Val<Mm>;
}

export interface Room extends Block {
  readonly light?: Val<Lux>;
  readonly source: 'window' | 'mains-lamps' | 'battery-lamps';
  readonly temperature?: Val<Kelvin>;
}

/** A lamp at one of its places. */
export interface LampPlace extends Named {
  readonly lamp?: KitLamp;
  /** The name looked up in the kit, and where it is said (the place's own name where `use` is not said). */
  readonly kitName: Val<string>;
  readonly movedFrom?: Val<string>;
  /** The first place in the chain of `moved-from`: places that share it are one lamp. */
  readonly origin: string;
  readonly modifierNames: readonly Val<string>[];
  readonly modifiers: readonly Modifier[];
  readonly temperature?: Val<Ends<Kelvin>>;
  readonly colour?: Val<string>;
  readonly level?: Val<Ends<Share>>;
  readonly distance?: Val<Ends<Mm>>;
  readonly angle?: Val<Ends<Degrees>>;
  readonly height?: Val<Ends<Mm>>;
  readonly aim: 'product' | 'backdrop';
  readonly role?: Val<string>;
  readonly measured?: Val<Lux>;
  /** Set for a board: the lamp whose light it gives back. */
  readonly bounces?: LampPlace;
  /** The name of that lamp, and where it is said. */
  readonly bouncesName?: Val<string>;
  /** Of a board. */
  readonly size?: Val<Box>;
  readonly reflects: Share;
  /** What a flag keeps its light from. */
  readonly keptOff: readonly Val<string>[];
  readonly longSide: 'upright' | 'level';
  /** A window is held by `nothing`. */
  readonly held: string;
  readonly heldAt?: Val<string>;
  /** A flame runs on its own fuel; a board and a window need no power. */
  readonly runsOn: 'mains' | 'battery' | 'fuel' | 'nothing';
  readonly runsOnAt?: Val<string>;
  readonly flashes?: Val<Hertz>;
  readonly flashArea?: Val<Share>;
  /** True when anything about it changes during a take. */
  readonly changes: boolean;
}

export interface SetUp extends Named {
  readonly build?: Val<Seconds>;
}

export interface Turn extends Block {
  readonly tableName?: Val<string>;
  readonly table?: Turntable;
  readonly starts?: Val<Degrees>;
  readonly by?: Val<Degrees>;
  /** Turns a minute, minus is anticlockwise. */
  readonly speed?: Val<number>;
}

export interface Action extends Block {
  readonly what?: Val<string>;
  readonly lasts?: Val<Seconds>;
  readonly fastest?: Val<MmPerSecond>;
  /** What goes where the camera's place changes. */
  readonly moves: 'camera' | 'subject' | 'both';
}

export interface Shot extends Named {
  readonly setUpName?: Val<string>;
  readonly setUp?: SetUp;
  readonly subject: Subject;
  /** Height of the middle of the product, which lamps aim at, above the surface. */
  readonly productMiddleMm: Mm;
  /** What is seen, the subject included. */
  readonly shows: readonly Val<string>[];
  /** Recognisable people or hands, by name. */
  readonly people: readonly Val<string>[];
  readonly onPurpose: readonly Val<string>[];
  readonly camera: Camera;
  readonly backdrop?: Backdrop;
  readonly surface?: Surface;
  readonly room?: Room;
  /** The lamps that are lit, and what was written. */
  readonly lit: readonly LampPlace[];
  readonly litNames?: readonly Val<string>[];
  /** True where the shots before it have more lamps than are looked at: nothing is said of it. */
  readonly isBeyond: boolean;
  readonly keyToFill?: Val<Stops>;
  readonly sharp: 'all' | 'front' | 'none';
  readonly takes: number;
  readonly takesAt?: Val<number>;
  readonly record?: Val<Seconds>;
  /** From one picture of a time-lapse to the next. */
  readonly interval?: Val<Seconds>;
  readonly handlesS: Seconds;
  readonly resetS: Seconds;
  /** Units of the product that one take uses up. */
  readonly usesUp?: Val<number>;
  /** The shots that must be filmed before. */
  readonly after: readonly Val<string>[];
  readonly turn?: Turn;
  readonly action?: Action;
  /** How long every `A to B` of the shot takes: what the action lasts, else the take less both handles. */
  readonly actionS?: Seconds;
  readonly microphoneName?: Val<string>;
  readonly microphone?: Microphone;
  /** What a meter said of it on the set: it takes the place of what would be reckoned. */
  readonly measured?: Measured;
  /** A picture of what it is to look like, by its path from the repo's root. */
  readonly sketch?: Val<string>;
  /** The pieces of the cut that use it, in order. */
  readonly pieces: readonly Piece[];
}

/** What a meter said of a shot, from its take sheets. */
export interface Measured extends Block {
  readonly shotName: Val<string>;
  /** On the product, with all that is lit. */
  readonly light?: Val<Lux>;
  readonly temperature?: Val<Kelvin>;
  /** Each lamp alone, by its place. */
  readonly lamps: ReadonlyMap<string, { readonly name: Val<string>; readonly light?: Val<Lux> }>;
  /** Minutes since midnight. */
  readonly clock?: Val<number>;
}

// ---- the edit --------------------------------------------------------------------------------------------------

/** The still that stands for a film before it plays. */
export interface Preview extends Block {
  readonly at?: Val<FilmTime>;
  /** In the cut. */
  readonly atS?: Seconds;
  /** What is seen in it. */
  readonly text?: Val<string>;
}

export interface Deliverable extends Named {
  readonly like?: Val<string>;
  readonly shownOn: readonly string[];
  readonly territory: readonly string[];
  /** Days since 1970-01-01. */
  readonly published?: Val<Ends>;
  readonly raster?: Val<Raster>;
  readonly rate?: Val<Rate>;
  readonly length?: Val<FilmTime>;
  readonly lengthS?: Seconds;
  readonly longest?: Val<FilmTime>;
  readonly longestS?: Seconds;
  readonly section?: Val<Ends<FilmTime>>;
  /** The stretch of the cut that it uses, in seconds of the film; the whole cut where nothing is said. */
  readonly sectionS?: Ends<Seconds>;
  readonly container: string;
  readonly codec: string;
  readonly codecAt?: Val<string>;
  readonly profile?: Val<string>;
  readonly codecLevel?: Val<string>;
  readonly tier: 'main' | 'high';
  readonly tierAt?: Val<string>;
  readonly bits: number;
  readonly bitsAt?: Val<number>;
  readonly chroma: string;
  readonly chromaAt?: Val<string>;
  readonly colourSpace: string;
  readonly colourSpaceAt?: Val<string>;
  readonly bitrate?: Val<BitsPerSecond>;
  readonly largestFile?: Val<Bytes>;
  /** `stereo`, `mono` or `none`; where not said, stereo if anything is heard. */
  readonly sound: string;
  readonly soundAt?: Val<string>;
  readonly loudness?: Val<number>;
  readonly truePeak?: Val<number>;
  readonly sampleRate?: Val<Hertz>;
  readonly keepClear: { readonly top: Share; readonly bottom: Share; readonly left: Share; readonly right: Share };
  readonly needNotShow: readonly Val<string>[];
  readonly preview?: Preview;
  readonly viewedOn: string;
  readonly loop: boolean;
  /** The pieces of the cut that it shows some of. */
  readonly pieces: readonly Piece[];
}

export interface Timeline extends Block {
  readonly raster?: Val<Raster>;
  /** Said, or what all deliverables share. */
  readonly rate?: Val<Rate>;
  readonly colourSpace?: string;
  readonly starts?: Val<FilmTime>;
}

/** One line of the cut. Frames and seconds count from the film's start, at the timeline's rate. */
export interface Piece extends Block {
  readonly index: number;
  readonly shotName?: Val<string>;
  readonly shot?: Shot;
  readonly footage?: Val<string>;
  readonly colour?: Val<string>;
  readonly length?: Val<FilmTime>;
  readonly lengthS?: Seconds;
  readonly startS?: Seconds;
  readonly endS?: Seconds;
  readonly startFrame?: number;
  readonly endFrame?: number;
  /** Where in the take it starts, from the start of the take. */
  readonly from?: Val<Seconds>;
  readonly fromS: Seconds;
  /** 1 is real speed; minus is backwards, 0 a still. */
  readonly speed: number;
  readonly speedAt?: Val<Share>;
  readonly zoom: Ends;
  readonly zoomAt?: Val<Ends>;
  readonly shift: Ends<Share>;
  readonly shiftAt?: Val<Ends<Share>>;
  readonly zoomBy: ReadonlyMap<string, Val<number>>;
  readonly shiftBy: ReadonlyMap<string, Val<Share>>;
  readonly straightenDeg: Degrees;
  readonly straightenAt?: Val<Degrees>;
  readonly flip?: Val<string>;
  readonly dissolve?: Val<FilmTime>;
  readonly dissolveS: Seconds;
  readonly fadeIn?: Val<FilmTime>;
  readonly fadeInS: Seconds;
  readonly fadeOut?: Val<FilmTime>;
  readonly fadeOutS: Seconds;
  readonly sound: 'none' | 'keep';
  readonly soundAt?: Val<string>;
  readonly pitch: 'kept' | 'shifts';
  readonly turnShown?: Val<Degrees>;
}

export interface Music extends Block {
  readonly track?: Val<string>;
  readonly tempo?: Val<number>;
  readonly firstBeatS: Seconds;
  readonly trimS: Seconds;
  readonly length?: Val<Seconds>;
}

export interface Sound extends Block {
  readonly track?: Val<string>;
  readonly at?: Val<FilmTime>;
  readonly atS: Seconds;
  readonly length?: Val<FilmTime>;
  readonly lengthS?: Seconds;
  /** Decibels above the music. */
  readonly gain?: Val<number>;
  /** What a voice says. */
  readonly words?: Val<string>;
}

export interface Title extends Block {
  readonly text?: Val<string>;
  readonly at?: Val<FilmTime>;
  readonly atS?: Seconds;
  readonly hold?: Val<FilmTime>;
  readonly holdS?: Seconds;
  readonly fadeS: Seconds;
  /** Height of the capitals as a share of the picture's shorter side. */
  readonly letters: Share;
  readonly lettersAt?: Val<Share>;
  readonly place: string;
  readonly colour: string;
  readonly colourAt?: Val<string>;
  readonly over?: Val<string>;
  readonly panel?: Val<string>;
  readonly font?: Val<string>;
  readonly onlyIn?: readonly Val<string>[];
}

export interface Grade extends Block {
  readonly to?: Val<string>;
  readonly brightenStops: Stops;
  readonly saturation: Share;
  readonly dither: boolean;
}

export interface Right extends Named {
  readonly kind?: Val<string>;
  readonly proof?: Val<string>;
  /** The music, sound, font or footage itself, by its path in the repo. */
  readonly media?: Val<string>;
  readonly owner: string;
  readonly credit?: Val<string>;
  readonly shownOn: readonly string[];
  readonly shownOnAt?: Range;
  readonly territory: readonly string[];
  readonly territoryAt?: Range;
  readonly from?: Val<number>;
  readonly until?: Val<number>;
}

export interface Day extends Block {
  readonly day?: Val<number>;
  /** Minutes since the day's midnight; over 1440 on the next day. One time alone is both ends. */
  readonly hours?: Val<Ends>;
  readonly order?: readonly Val<string>[];
  readonly breaksS: Seconds;
  readonly cards?: readonly Val<string>[];
  readonly batteries?: readonly Val<string>[];
  /** Counted as `hours` are. */
  readonly offload?: readonly Val<number>[];
}

export interface Care extends Block {
  /** Amperes. */
  readonly circuit?: Val<number>;
  readonly alsoOnCircuit?: Val<Watts>;
  readonly cableReel?: Val<string>;
  readonly residualCurrent?: Val<string>;
  readonly charging?: Val<string>;
  readonly travelByAir?: Val<string>;
  readonly precautions: readonly Val<string>[];
}

export interface Brief extends Block {
  readonly client?: Val<string>;
  readonly purpose?: Val<string>;
  readonly mustShow: readonly Val<string>[];
  readonly mustNotShow: readonly Val<string>[];
  readonly needsRights: readonly Val<string>[];
  readonly due?: Val<number>;
}

/** That the client agreed to the plan as it was at a revision of git. */
export interface Agreed extends Block {
  readonly who?: Val<string>;
  readonly day?: Val<number>;
  readonly revision?: Val<string>;
}

/** A spec as it was at a revision of git: somebody else reads it ahead, as the core knows no git. */
export type Earlier =
  | { readonly kind: 'plan'; readonly film: Film }
  /** No such revision; where the history was cut off when it was fetched, nobody can tell. */
  | { readonly kind: 'unknown'; readonly isCutOff: boolean }
  /** The revision has no such file, or one that can't be read. */
  | { readonly kind: 'absent' };

export interface Film {
  readonly title?: Val<string>;
  /** The whole document, for findings about nothing smaller. */
  readonly at: Range;
  /** The spec as written, so that a fix can add a block to it. */
  readonly fields: Fields;
  readonly region?: Val<Region>;
  /** Mains frequency where it is certain: said, or the country's only one. */
  readonly mainsHz?: Hertz;
  readonly mainsVolts?: number;
  readonly onPurpose: readonly Val<string>[];
  readonly kit: Kit;
  readonly brief?: Brief;
  readonly agreed?: Agreed;
  /** What work costs, where the settings say it. */
  readonly fees?: Fees;
  readonly product: Product;
  readonly deliverables: ReadonlyMap<string, Deliverable>;
  readonly timeline: Timeline;
  readonly lamps: ReadonlyMap<string, LampPlace>;
  readonly setUps: ReadonlyMap<string, SetUp>;
  readonly shots: ReadonlyMap<string, Shot>;
  readonly music?: Music;
  readonly sounds: readonly Sound[];
  readonly cut: readonly Piece[];
  /** Length of the cut, and its first key for findings about all of it; undefined when a piece has no readable length. */
  readonly cutS?: Seconds;
  readonly cutAt?: Range;
  readonly titles: readonly Title[];
  readonly grade?: Grade;
  readonly rights: ReadonlyMap<string, Right>;
  readonly schedule: readonly Day[];
  readonly care?: Care;
  /** Does a file exist in the repo, by its path from the root? For papers that are named. */
  exists(path: string): boolean;
  /** A photograph in the repo; undefined where there is none, else why it can't be read, in words that follow its name. */
  photograph(path: string): Photograph | string | undefined;
  /** A sketch in the repo; undefined where there is none or nobody looks, else why it can't be used, in words that follow its name. */
  sketch(path: string): Sketch | string | undefined;
  /** What is heard in a file of the repo; undefined where nobody listened. */
  heard(path: string): MusicHeard | undefined;
  /** This spec at a revision of git; undefined while that is not known, and where nobody can say. */
  earlier(revision: string): Earlier | undefined;
  /** The revision that the repo is at, where somebody can say. */
  lastCommit(): string | undefined;
}
