/** Light and colour of a shot: its lamps on a temperature scale against the camera, and how bright things come out. */
import { shutterSeconds } from '../../core/derived/time.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import { pageFor, type Room, usualRoom } from '../page.ts';
import { assign, blockRange, heading, type Picture, type Place, type Source } from '../picture.ts';
import { bandOf } from './rows.ts';
import { stopsScale } from './stops.ts';
import { temperatureScale } from './temperature.ts';

export function drawColour(source: Source, shot: Shot, room: Room = usualRoom): Picture {
  const page = pageFor(room);
  const places = placesOf(shot);
  const { noted, at } = assign(source, places.all, shot.name);
  const title = `${shot.name}: light and colour`;
  const top = heading(page, title, settingsWords(shot), shot, at(places.head));
  const band = bandOf(page);
  const temperatures = temperatureScale(shot, band, top.bottom + 4, {
    balance: at(places.balance),
    of: (lamp) => at(places.lamps.find((one) => one.lamp === lamp)!),
    room: at(places.room),
  });
  const stops = stopsScale(shot, band, temperatures.bottom + 18, [...at(places.exposure), ...at(places.wall)]);
  return {
    view: 'colour',
    title,
    description: `${settingsWords(shot)}. ${temperatures.words.join('; ')}. ${stops.words.join('; ')}.`,
    width: page.width,
    height: stops.bottom + 4,
    body: [...top.body, ...temperatures.body, ...stops.body],
    noted,
  };
}

function placesOf(shot: Shot) {
  const { camera, backdrop } = shot;
  const lamps = shot.lit.map((lamp): Place & { lamp: LampPlace } => ({ lamp, ranges: [blockRange(lamp)] }));
  const room: Place = { ranges: [blockRange(shot.room)] };
  const balance: Place = { ranges: [camera.whiteBalance] };
  const exposure: Place = {
    ranges: [camera.iso, camera.shutter, camera.aperture, camera.exposure, ...camera.filterNames, shot.keyToFill],
  };
  const wall: Place = { ranges: [backdrop?.tone, backdrop?.brightness, backdrop?.reflects] };
  const head: Place = { ranges: [shot, blockRange(shot)] };
  return { lamps, room, balance, exposure, wall, head, all: [...lamps, room, balance, exposure, wall, head] };
}

function settingsWords(shot: Shot): string {
  const { camera } = shot;
  const shutter = shutterSeconds(shot);
  return [
    camera.whiteBalance ? `white balance ${camera.whiteBalance.text}` : 'white balance not said',
    shutter === undefined ? (camera.shutter?.text ?? 'shutter not said') : say.shutterText(shutter),
    camera.aperture?.text ?? 'aperture not said',
    camera.iso ? `ISO ${camera.iso.text}` : 'ISO not said',
    ...camera.filterNames.map((one) => one.value),
  ].join(' · ');
}
