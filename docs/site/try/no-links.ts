/** In the place of the library that finds addresses in plain text: here none is made a link of. */
export default function NoLinks(): void {
  // Finds none.
}
