import { defineRule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import { shownIn } from '../../core/derived/shown.ts';

export default defineRule({
  id: 'must-not-show-seen',
  family: 'cut',
  summary: 'A shot shows what the brief says may not be seen.',
  severity: 'error',
  sources: ['the brief'],
  messages: {
    seen: '{shot}: {item} is seen, and the brief says that it may not be. Keep it out of the picture, or leave the shot out.',
  },
  shot(shot, { film, report }) {
    // What is filmed and not used breaks no promise.
    if (film.cut.length > 0 && shot.pieces.length === 0) return;
    for (const shown of shownIn(shot)) {
      const rule = film.brief?.mustNotShow.find((item) => item.value === shown.value);
      if (!rule) continue;
      const related = [{ start: rule.start, end: rule.end, message: 'may not be shown' }];
      report({ message: 'seen', data: { shot: shot.name, item: quoted(shown.value) }, at: shown, related });
    }
  },
});
