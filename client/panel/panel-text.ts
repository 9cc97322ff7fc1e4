/** What the page of the panel says of itself, in the editor's language. The page puts something in the place of braces. */

export type PanelText = ReturnType<typeof panelTextOf>;

/** @param l10n the editor's translations, or for tests none */
export function panelTextOf(l10n: { t(text: string): string }) {
  return {
    page: l10n.t('Pictures of the plan'),
    waiting: l10n.t('Waiting for the plan'),
    views: l10n.t('Pictures'),
    shot: l10n.t('Shot'),
    atCursor: l10n.t('where the cursor is'),
    atCursorIn: l10n.t('where the cursor is ({0})'),
    deliverable: l10n.t('Deliverable'),
    allDeliverables: l10n.t('all'),
    asLit: l10n.t('As lit'),
    litOrLines: l10n.t('The frame with its light as the camera will see it, or as lines'),
    zoom: l10n.t('Zoom'),
    zoomOut: l10n.t('Zoom out'),
    zoomIn: l10n.t('Zoom in'),
    fit: l10n.t('As wide as the panel'),
    zoomed: l10n.t('Zoom {0} %: back to the width of the panel'),
    save: l10n.t('Save…'),
    saveTo: l10n.t('Write this picture to a file'),
    old: l10n.t("{0} can't be read just now. This is drawn from what it said before."),
    noFinding: l10n.t('No finding is seen in this picture'),
    oneFinding: l10n.t('1 finding is seen in this picture'),
    findings: l10n.t('{0} findings are seen in this picture'),
    goTo: l10n.t('Go to it in the text'),
    error: l10n.t('Error'),
    warning: l10n.t('Warning'),
    info: l10n.t('Note'),
    hint: l10n.t('Hint'),
    parts: l10n.t('What is drawn, and where it is written'),
    inWords: l10n.t('The picture in words'),
    film: l10n.t('The film as planned'),
    screen: l10n.t('The film, drawn as lit from the plan'),
    momentOf: l10n.t('Moment of the film'),
    moment: l10n.t('{0} s · frame {1} of {2}'),
    beat: l10n.t('beat {0}'),
    piece: l10n.t('piece {0} {1}'),
    play: l10n.t('Play'),
    hold: l10n.t('Hold'),
    playOrHold: l10n.t('Play the film from here, or hold it (Space)'),
    repeat: l10n.t('Repeat the piece'),
    repeatThis: l10n.t('Go round and round in the piece that is shown (R)'),
    hush: l10n.t('Without sound'),
    hushThis: l10n.t('Play without sound (H)'),
    flash: l10n.t('Let it flash'),
    flashThis: l10n.t('Show what flashes as it will flash (F)'),
    flashCaution: l10n.t(
      'This film flashes, up to {0} times in a second. Flashing pictures can bring on seizures in some people, so they are held still until you let them flash.',
    ),
    pace: l10n.t('Shown in a second: {0} of {1} frames, {2} of them newly drawn.'),
    drawing: l10n.t('Drawn so far: {0} of {1}.'),
    calm: l10n.t('Movement is shown as stills, as your system asks for less of it.'),
    cannotPlay: l10n.t("{0} can't be played here, so it is not heard."),
    playKeys: l10n.t('Keys of the film'),
    playKeysAre: l10n.t(
      'Space plays and holds. Left and Right go by a frame, with Shift by a beat. Page Up and Page Down go by a piece, Home and End to the ends. R repeats the piece, H takes the sound away, F lets flash what flashes.',
    ),
  };
}

export function put(into: string, ...values: readonly (string | number)[]): string {
  return into.replace(/\{(\d)\}/g, (all, at: string) => String(values[Number(at)] ?? all));
}
