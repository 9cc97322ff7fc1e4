/** What a file of tests talks to: for each test a repo of its own, with a server in this process that is not initialised yet. */
import { afterEach, beforeEach } from 'vitest';
import { ClientNear } from './near-server.ts';
import { DiskRepo } from './server.ts';

export let repo: DiskRepo;
export let client: ClientNear;
/** Of the spec that the tests are about. */
export let uri: string;

/** @param files of each repo, beside the usual kits */
export function startsServer(files: Readonly<Record<string, string>> = {}): void {
  beforeEach(() => {
    repo = new DiskRepo(files);
    client = new ClientNear();
    uri = repo.uri('box.shoot.yaml');
  });

  afterEach(async () => {
    await client.stop();
    repo.remove();
  });
}
