/** Specs of any length, as people write them: the base film with as many shots, pieces and titles as it takes. */
import { spec } from '../helpers/workspace.ts';

/** Near and far by turns, as shots are cut together. */
const shot = (index: number) => `  shot-${index}:
    # The crank comes to rest at the front.
    set-up: ${index % 2 ? 'near' : 'wide'}
    shows: [crank, name-plate]
    takes: 3
    reset: 2 min
    record: 14 s
    camera: # a little higher each time
      height: ${8 + (index % 5)} cm
      focus: locked
    turn:
      starts: ${(index * 47) % 360}°
      speed: 1.5 rpm
    notes: |
      Wipe the lid before each take.
      The felt is borrowed; no tape on it.
`;

const piece = (index: number) => `  - shot: shot-${index}
    length: 2 s
    from: 2 s
    zoom: 1.0 to 1.0${index % 5}
`;

const head = `surface: { material: walnut board, finish: satin, size: 120 x 110 cm, front: 60 cm, height: 75 cm }
set-ups:
  wide: { build: 40 min, camera: { distance: 78 cm } }
  near: { build: 30 min, camera: { distance: 58 cm } }
`;

/** Every shot takes 16 lines and its piece four more. */
export function specOf(lines: number): string {
  const fixed = spec(`${head}shots: {}\ncut: []\n`).split('\n').length - 3;
  return specOfShots(Math.max(1, Math.round((lines - fixed) / 20)));
}

/** What is wrong with a shot, its camera and its piece of the cut: each kind in turn. */
const faults = [
  { camera: 'shutter: 1/200 s', piece: 'zoom: 1.0 to 1.02', shot: 'notes: Check the hinge.' },
  { camera: 'iso: auto', piece: 'lenght: 2 s', shot: 'takes: 3' },
  { camera: 'distance: 60', piece: 'zoom: 3 to 3.4', shot: 'shows: [crank, name-plaet]' },
  { camera: 'aperture: f/1.8', piece: 'speed: 400 %', shot: 'turn: { by: 90°, speed: 0.5 rpm }' },
  { camera: 'wb: 3200K', piece: 'from: 13 s', shot: 'record: 14s' },
  { camera: 'focus: auto', piece: 'zoom: 0.5', shot: 'shows: [lid]' },
];

const messyShot = (index: number) => {
  const { camera, shot: own } = faults[index % faults.length]!;
  return `  shot-${index}:
    set-up: ${index % 2 ? 'near' : 'wide'}   # second go
    people: []
    reset: 2 min
    ${own.startsWith('record') ? own : `record: 14 s\n    ${own}`}
    camera:
        height: ${8 + (index % 5)} cm
        ${camera}
    ${own.startsWith('turn') ? 'action: It turns.' : `turn: { starts: ${(index * 47) % 360}°, speed: 3 rpm }`}
    on-purpose: [wide-near]

`;
};

const messyPiece = (index: number) => {
  const { piece: own } = faults[index % faults.length]!;
  return `  - { shot: shot-${index}, length: 2 s, from: 2 s${own.startsWith('from') ? '' : `, ${own}`} }   # ${own}\n`;
};

/** A spec as it is in the middle of the work, with about a finding for ten lines. */
export function messySpecOf(lines: number): string {
  const fixed = spec(`${head}shots: {}\ncut: []\n`).split('\n').length - 3;
  return specOfShots(Math.max(1, Math.round((lines - fixed) / 13)), messyShot, messyPiece);
}

/** Another film of the same kind, of which no block, shot or line of the cut is written as in any other. */
export function another(text: string, film: number): string {
  return text.replace(/^(\S.*|  [\w-]+:|  - .*)$/gm, `$1 # film ${film}`);
}

export function specOfShots(count: number, shotOf = shot, pieceOf = piece): string {
  const all = Array.from({ length: count }, (_, index) => index);
  const deliver = `deliver:\n  film: { raster: 1920x1080, rate: 25, length: ${count * 2} s, codec: h264, bitrate: 16 Mb/s, sound: none }\n`;
  return spec(`${deliver}${head}shots:\n${all.map(shotOf).join('')}cut:\n${all.map(pieceOf).join('')}`);
}
