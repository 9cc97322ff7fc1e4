/** `Clay bird, no. 2` as `clay-bird-no-2`: what the file of a new film is called, without its ending. */
export function fileName(title: string): string {
  const plain = title.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();
  return plain.replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'film';
}
