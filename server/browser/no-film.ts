/** Films are played and put together by programs that a page has not: it says so where one is asked for. */
import type { Session } from '../handlers/session.ts';

const why = 'Films are played by the editor on a computer, not by one in a browser.';

export function registerNoFilm({ connection, ready }: Session): void {
  connection.onRequest(
    'shootSpec/reel',
    ready(() => ({ why })),
  );
}
