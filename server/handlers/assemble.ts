/** Wires assembling to the protocol, by a request of our own: which films a spec makes, and whether they can be made here. */
import { ffmpeg, howToGetFfmpeg } from '../footage/decode/ffmpeg.ts';
import { type DocumentParams, readingOf, type Session } from './session.ts';

interface Answer {
  readonly films: readonly { readonly name: string; readonly container: string; readonly raster?: string }[];
  /** Where what makes films is missing. */
  readonly howToGet?: string;
}

export function registerAssemble({ connection, ready, at }: Session): void {
  connection.onRequest(
    'shootSpec/films',
    ready(async ({ textDocument: { uri } }: DocumentParams): Promise<Answer> => {
      const open = at(uri);
      const deliverables = open && readingOf(open)?.result.film?.deliverables;
      const films = [...(deliverables?.values() ?? [])].map(({ name, container, raster }) => ({
        name,
        container,
        ...(raster && { raster: raster.text }),
      }));
      return { films, ...(!(await ffmpeg()) && { howToGet: howToGetFfmpeg }) };
    }),
  );
}
