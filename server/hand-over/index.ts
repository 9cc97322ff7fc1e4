/** A film as other programs take it: one standard each. A program of its own, loaded when it is asked for. */
import { calendar } from './calendar.ts';
import { csv } from './csv.ts';
import { edl } from './edl.ts';
import { filmJson } from './film-json.ts';
import { CannotHandOver, type HandedOver, type Kind, type ToHandOver } from './kind.ts';
import type { KindName } from './kind-names.ts';
import { otio } from './otio.ts';
import { webvtt } from './webvtt.ts';

const kinds: Readonly<Record<KindName, Kind>> = { otio, edl, webvtt, calendar, csv, json: filmJson };

/** Or why there is nothing to hand over, in words. */
export function handedOver(as: KindName, asked: ToHandOver): HandedOver | string {
  try {
    return kinds[as].make(asked);
  } catch (error) {
    if (error instanceof CannotHandOver) return error.message;
    throw error;
  }
}
