/** Whom tests tell things that need no server: a client that takes everything. */
import { readAnnounced } from '../../server/announced.ts';
import type { Audience } from '../../server/protocol.ts';
import { usualClient } from './clients.ts';

export const audience: Audience = { can: readAnnounced(usualClient), units: 'utf-16', pageOf: () => undefined };
