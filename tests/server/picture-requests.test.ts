/** Asking the server for pictures and the sheet, as the panel does and as it should not. */
import { rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Kept, Picture } from '../../client/panel/messages.ts';
import type { Reel } from '../../server/film/reel.ts';
import { client, repo, startsServer, uri } from '../helpers/open-near-server.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

const text = spec(`shots:
  box: { record: 12 s }
  lid:
    record: 12 s
    camera: { distance: 47 cm }
cut:
  - { shot: box, length: 4 s }
  - { shot: lid, length: 6 s }
`);

startsServer();

type Asked = Partial<Omit<Kept, 'uri'>> & { position?: { line: number; character: number } };

const ask = (asked: Asked = {}, of = uri) =>
  client.request<Picture | null>('shootSpec/picture', { textDocument: { uri: of }, ...asked });

function positionOf(words: string, on = text) {
  const lines = on.slice(0, on.indexOf(words)).split('\n');
  return { line: lines.length - 1, character: lines.at(-1)!.length };
}

describe('a picture', () => {
  test('is drawn of the version that is open, with what can be chosen', async () => {
    await client.initialize(repo.root);
    await client.open(uri, text, 5);
    const picture = (await ask())!;
    expect(picture).toMatchObject({ version: 5, old: false, view: 'set-above', shot: 'box', shots: ['box', 'lid'] });
    expect(picture.svg).toMatch(/^<svg /);
    expect(picture.root).toBe(repo.uri('').replace(/\/$/, ''));
  });

  test('follows the position', async () => {
    await client.initialize(repo.root);
    await client.open(uri, text);
    const picture = (await ask({ position: positionOf('47 cm'), shot: 'box', view: 'set-side' }))!;
    expect(picture).toMatchObject({ shot: 'lid', view: 'set-side', here: text.indexOf('47 cm') });
    const part = picture.parts.find(({ words }) => words.endsWith('distance: 47 cm'))!;
    expect(text.slice(part.start, part.end)).toBe('47 cm');
  });

  test('changes with the text, without waiting for findings', async () => {
    await client.initialize(repo.root);
    await client.open(uri, text);
    const before = (await ask({ shot: 'lid' }))!;
    await client.change(uri, 2, text.replace('47 cm', '49 cm'));
    const after = (await ask({ shot: 'lid' }))!;
    expect(after.version).toBe(2);
    expect(before.svg).toContain('>47 cm<');
    expect(after.svg).toContain('>49 cm<');
  });

  test('stays while the text is broken, with its places moved, and follows the position there', async () => {
    await client.initialize(repo.root);
    await client.open(uri, text);
    await ask();
    const broken = text.replace('title: ', 'title: "{ not closed ');
    await client.change(uri, 2, broken);
    const picture = (await ask({ position: positionOf('47 cm', broken) }))!;
    expect(picture).toMatchObject({ version: 2, old: true, shot: 'lid' });
    const part = picture.parts.find(({ words }) => words.endsWith('distance: 47 cm'))!;
    expect(broken.slice(part.start, part.end)).toBe('47 cm');
  });

  test('changes with a kit that is edited and not saved', async () => {
    await client.initialize(repo.root);
    await client.open(uri, text);
    const kit = repo.uri('kits/camera.kit.yaml');
    const before = (await ask({ view: 'colour' }))!;
    await client.open(kit, 'title: Nothing\n', 1, 'shoot-kit');
    expect((await ask({ view: 'colour' }))!.svg).not.toBe(before.svg);
  });

  test('is none of a file that is not open, of a kit, and of a plan that could never be read', async () => {
    await client.initialize(repo.root);
    expect(await ask()).toBeNull();
    const kit = repo.uri('kits/camera.kit.yaml');
    await client.open(kit, 'title: Nothing\n', 1, 'shoot-kit');
    expect(await ask({}, kit)).toBeNull();
    await client.open(uri, 'title: "\n');
    expect(await ask()).toBeNull();
  });

  test('is not drawn before the session begins nor after it ends', async () => {
    await expect(ask()).rejects.toThrow(/not been initialised/);
    await client.initialize(repo.root);
    await client.request('shutdown', {});
    await expect(ask()).rejects.toThrow(/shut down/);
  });

  test.each([{ view: 7 }, { shot: ['box'] }, { position: { line: 1e9, character: -4 } }, { deliverable: '__proto__' }])(
    'is drawn as usual where %j is asked',
    async (odd) => {
      await client.initialize(repo.root);
      await client.open(uri, text);
      expect((await ask(odd as unknown as Asked))!.shot).toBe('box');
    },
  );
});

describe('a file', () => {
  test('is a picture with its own colours', async () => {
    await client.initialize(repo.root);
    await client.open(uri, text);
    const { svg } = await client.request<{ svg: string }>('shootSpec/pictureFile', {
      textDocument: { uri },
      view: 'frame',
      shot: 'lid',
    });
    expect(svg).toMatch(/^<svg /);
    expect(svg).toContain('lid');
    expect(svg).not.toContain('var(');
  });

  test('is none where there is no plan', async () => {
    await client.initialize(repo.root);
    for (const request of ['pictureFile', 'sheetFile'])
      expect(await client.request(`shootSpec/${request}`, { textDocument: { uri } })).toBeNull();
  });
});

/** Of one bundled server: each test has a spec of its own. */
describe('what lies beside the bundle', () => {
  let repo: DiskRepo;
  let client: Client;

  beforeAll(async () => {
    repo = new DiskRepo();
    client = new Client();
    await client.initialize(repo.root);
  });
  afterAll(async () => {
    await client.stop();
    repo.remove();
  });

  test('the sheet is a page, or on paper', async () => {
    const uri = repo.uri('sheet.shoot.yaml');
    await client.open(uri, text);
    const sheet = (wish: { as?: 'html' | 'pdf'; for?: 'set' | 'client' }) =>
      client.request<{ html?: string; pdfBase64?: string }>('shootSpec/sheetFile', { textDocument: { uri }, ...wish });
    expect((await sheet({ as: 'html' })).html).toMatch(/^<!doctype html>[^]*Music box, a first look/);
    expect((await sheet({ for: 'set' })).html).toMatch(/^<!doctype html>[^]*script-src 'sha256-[^]*Take made/);
    expect((await sheet({ for: 'client' })).html).toMatch(/^<!doctype html>[^]*What you get/);
    for (const wish of [{ as: 'pdf' }, { as: 'pdf', for: 'client' }] as const) {
      const pdf = Buffer.from((await sheet(wish)).pdfBase64!, 'base64');
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      expect(pdf.subarray(-8).toString()).toContain('%%EOF');
      // As lit, in pixels.
      expect(pdf.toString('latin1')).toContain('/Subtype /Image');
    }
  });

  describe('the film to play', () => {
    type ReelAnswer = { reel?: Reel; why?: string } | null;
    const reel = (uri: string) => client.request<ReelAnswer>('shootSpec/reel', { textDocument: { uri } });

    test('is a reel with the places of the newest text, and scenes one by one', async () => {
      const uri = repo.uri('reel.shoot.yaml');
      await client.open(uri, text);
      const first = (await reel(uri))!.reel!;
      expect(first).toMatchObject({ deliverable: 'film', frames: 250, fromS: 0 });
      const scene = await client.request<{ scene?: object; moves?: boolean }>('shootSpec/scene', {
        textDocument: { uri },
        piece: 1,
        atS: 1,
        tellsMoves: true,
      });
      expect(scene).toMatchObject({ moves: false, scene: { aspect: expect.closeTo(16 / 9, 3) } });
      const broken = `# A line more.\n${text}shots: {{\n`;
      await client.change(uri, 2, broken);
      const { written } = (await reel(uri))!.reel!.pieces[1]!;
      expect(broken.slice(written!.start, written!.end)).toContain('shot: lid');
    });

    test('hears files of the repo alone', async () => {
      const outside = `outside-${process.pid}.wav`;
      const heard = (file: string) =>
        `${text}music: { track: tune }\nrights:\n  tune: { kind: music, file: ${file} }\n`;
      const uri = repo.uri('sounds.shoot.yaml');
      writeFileSync(join(repo.root, 'tune.wav'), '');
      writeFileSync(join(repo.root, '..', outside), '');
      symlinkSync(join(repo.root, '..', outside), join(repo.root, 'link.wav'));
      const sounds = async (file: string, version: number) => {
        await client.change(uri, version, heard(file).replace('sound: none', 'sound: stereo'));
        return (await reel(uri))!.reel!.sounds.map((one) => one.file);
      };
      await client.open(uri, text);
      expect(await sounds('tune.wav', 2)).toEqual([expect.stringMatching(/tune\.wav$/)]);
      for (const [at, file] of [`../${outside}`, 'link.wav', '/etc/passwd', 'gone.wav'].entries())
        expect(await sounds(file, at + 3), file).toEqual([]);
      rmSync(join(repo.root, '..', outside));
    });

    test('is none for other files, and says why where it is not known', async () => {
      const uri = repo.uri('none.shoot.yaml');
      await client.open(uri, text.replace('length: 6 s }', '}'));
      expect((await reel(uri))!.why).toMatch(/length/);
      const kit = repo.uri('kits/camera.kit.yaml');
      expect(await reel(kit)).toBeNull();
      expect(await client.request('shootSpec/scene', { textDocument: { uri: kit }, piece: 0, atS: 0 })).toBeNull();
    });
  });
});
