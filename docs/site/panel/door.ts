/** What the page of the panel finds in an editor, in a frame of our page: a way to say something, and colours. */
interface Wear {
  readonly kind: 'wear';
  readonly colours: Readonly<Record<string, string>>;
  readonly theme: string;
}

let isReady = false;
const say = (message: object) => parent.postMessage(message, '*');

Object.assign(globalThis, {
  acquireVsCodeApi: () => ({
    postMessage(message: { readonly kind?: string }) {
      isReady ||= message.kind === 'ready';
      say(message);
    },
    setState: () => undefined,
  }),
});

addEventListener('message', ({ source, data }: MessageEvent<Wear | { readonly kind: 'hello' } | undefined>) => {
  if (source !== parent) return;
  if (data?.kind === 'hello' && isReady) say({ kind: 'ready' });
  if (data?.kind !== 'wear') return;
  const { style } = document.documentElement;
  for (const [name, colour] of Object.entries(data.colours)) style.setProperty(`--vscode-${name}`, colour);
  document.body.className = data.theme;
});

export {};
