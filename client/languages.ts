/** The four kinds of file that are ours, as package.json names them, and where they can be checked. */
export const languageIds = ['shoot-spec', 'shoot-takes', 'shoot-kit', 'shoot-settings'];

export function documentsOf(schemes: readonly string[]) {
  return languageIds.flatMap((language) => schemes.map((scheme) => ({ language, scheme })));
}

/** Files on a disk and files not saved yet. In a virtual folder there is no disk to read kits from. */
export const ourDocuments = documentsOf(['file', 'untitled']);
