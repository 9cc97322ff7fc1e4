import { defineRule } from '../../core/rule.ts';
import { quoted, secondsText } from '../../core/say.ts';

export default defineRule({
  id: 'time-outside-part',
  family: 'takes',
  summary: 'A part ends before it starts, or the action starts outside of it.',
  severity: 'error',
  sources: ['the format itself: all times of a take count from the start of its clip'],
  messages: {
    backwards: '{part} ends before it starts. Write the earlier time first.',
    action:
      'The action starts at {action}, outside of the part from {from} to {to}. Both count from the start of the clip{meant}.',
  },
  take({ part, action }, { report }) {
    if (!part) return;
    const { from, to } = part.value;
    if (to <= from) {
      const [first, second] = part.text.split(' to ');
      const edits = [{ start: part.start, end: part.end, text: `${second} to ${first}` }];
      const fixes = to < from ? [{ title: `Write \`${second} to ${first}\``, edits }] : [];
      report({ message: 'backwards', data: { part: quoted(part.text) }, at: part, fixes });
      return;
    }
    if (!action || (action.value >= from && action.value < to)) return;
    const meant = from + action.value;
    const fits = meant < to && action.value < from;
    const text = secondsText(meant);
    report({
      message: 'action',
      data: {
        action: quoted(action.text),
        from: secondsText(from),
        to: secondsText(to),
        meant: fits ? `: from the start of the part it would be ${text}` : '',
      },
      at: action,
      fixes: fits ? [{ title: `Write \`${text}\``, edits: [{ start: action.start, end: action.end, text }] }] : [],
    });
  },
});
