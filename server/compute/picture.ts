/** Pixels: how far one may zoom in, how far movement smears, and what a television may cut off. */
import { largestCrop, leastZoom, zoomHeadroom, type PixelSize } from '../calc/framing.ts';
import { blurPx, rimSpeedMmS } from '../calc/motion.ts';
import { safeBox } from '../calc/safe-area.ts';
import { num, rasterText } from '../core/say.ts';
import type { Raster } from '../core/units.ts';
import { exposureTime, length, pxPerMm, raster, rpm, speed, tilt } from './quantities.ts';
import { defineTopic, needed, optional, usually } from './topic.ts';

const pixels = ({ width: widthPx, height: heightPx }: Raster): PixelSize => ({ widthPx, heightPx });
const wide = ({ widthPx: width, heightPx: height }: PixelSize): Raster => ({ width, height });

const zoomTopic = defineTopic({
  id: 'zoom',
  summary: 'How far a recording can be zoomed into and straightened',
  keys: {
    capture: needed({ ...raster, example: '3840x2160' }, 'raster recorded'),
    deliver: needed(raster, 'raster of the finished film'),
    rotate: usually(tilt('5°', 90), '0°', 'angle by which the picture is straightened; 0° when left out'),
  },
  results: {
    max_zoom: { unit: '×', meaning: 'greatest zoom with a recorded pixel for each delivered one' },
    straighten_zoom: {
      unit: '×',
      meaning: 'least zoom without empty corners',
      say: (value) => `${num(value, 5)} ×`,
    },
    crop_width: { unit: 'px', meaning: 'width left of the recording at the least zoom' },
    crop_height: { unit: 'px', meaning: 'height left of it' },
  },
  formula:
    'zoom 1 is the largest upright picture of the delivered shape, w₁ wide, that the recording (W × H) holds; ' +
    'max = w₁ ÷ delivered width; crop width w = min(W ÷ (cos α + sin α ÷ a), H ÷ (sin α + cos α ÷ a)), a the delivered ' +
    'width ÷ height; least = w₁ ÷ w; shapes alike: max(cos α + (h/w)·sin α, cos α + (w/h)·sin α)',
  source: 'geometry of a rectangle turned inside another',
  example: ['capture=3840x2160', 'deliver=1920x1080', 'rotate=5°'],
  compute({ capture, deliver, rotate }) {
    const [from, delivered] = [pixels(capture), pixels(deliver)];
    const crop = largestCrop(from, deliver.width / deliver.height, rotate);
    const most = zoomHeadroom(from, delivered);
    const least = leastZoom({ raster: from, delivered, zoom: 1, straightenDeg: rotate });
    const enlarged = most < least * (1 - 1e-9);
    return {
      results: { max_zoom: most, straighten_zoom: least, crop_width: crop.widthPx, crop_height: crop.heightPx },
      notes: enlarged
        ? [`Even at the least zoom the picture is enlarged, ${num(least / most, 2)} times.`]
        : [`Between the two ${num(most / least, 4)} × is left for zooming in.`],
    };
  },
});

const blurTopic = defineTopic({
  id: 'blur',
  summary: 'How far movement smears in one exposure',
  keys: {
    rpm: optional(rpm, 'speed of a turntable'),
    radius: optional(length('50 mm'), 'how far from its axis the thing is'),
    speed: optional(speed, 'speed across the picture'),
    time: needed(exposureTime('1/50 s'), 'exposure time of one frame'),
    'px-per-mm': needed(pxPerMm, 'delivered pixels for each mm at the thing'),
  },
  ways: [['rpm', 'radius'], ['speed']],
  results: { blur_px: { unit: 'px', meaning: 'blur in the finished picture' } },
  formula: 'blur = v·t·px/mm; on a turntable v = 2πr·rpm ÷ 60 (the face toward the camera, moving across the picture)',
  source: 'arithmetic of even movement',
  example: ['rpm=2', 'radius=50mm', 'time=1/50s', 'px-per-mm=10'],
  compute({ rpm: turns, radius, speed: straight, time, 'px-per-mm': scale }) {
    return { results: { blur_px: blurPx(straight ?? rimSpeedMmS(radius!, turns!), time, scale) } };
  },
});

const safeAreaTopic = defineTopic({
  id: 'safe-area',
  summary: 'Where action and titles stay visible on any television',
  keys: { raster: needed(raster, 'raster of the finished film') },
  results: {
    action: { unit: 'px', meaning: 'action, in the middle' },
    title: { unit: 'px', meaning: 'titles, in the middle' },
  },
  formula:
    'action 93 %, titles 90 % of each side, to the nearest whole number; from 2160 lines on margins of 3.5 % and 5 % in ' +
    'whole even numbers',
  source: 'SMPTE ST 2046-1:2009 §5; EBU R 95 v1.1 (2160 lines); ITU-R BT.1848-1',
  example: ['raster=1920x1080'],
  compute({ raster: size }) {
    const tall = size.height >= size.width;
    return {
      results: { action: wide(safeBox(pixels(size), 'action')), title: wide(safeBox(pixels(size), 'title')) },
      notes: tall ? [`No standard covers ${rasterText(size)}: the same shares, by analogy.`] : [],
    };
  },
});

export const pictureTopics = [zoomTopic, blurTopic, safeAreaTopic];
