/** The four kinds of file that are ours, as package.json names them, and where they can be checked. */
export const languageIds = ['shoot-spec', 'shoot-takes', 'shoot-kit', 'shoot-settings'];

/** Files on a disk and files not saved yet. Elsewhere (a browser's virtual folder) there is no disk to read kits from. */
export const ourDocuments = languageIds.flatMap((language) => [
  { language, scheme: 'file' },
  { language, scheme: 'untitled' },
]);
