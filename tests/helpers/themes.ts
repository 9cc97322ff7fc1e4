/** The colours that the editor's own default themes give to a page (from memory of its theme files). */
export const themes = {
  light: {
    background: '#ffffff',
    foreground: '#3b3b3b',
    soft: '#3b3b3b',
    link: '#005fb8',
    alarm: '#f85149',
  },
  dark: {
    background: '#1f1f1f',
    foreground: '#cccccc',
    soft: '#9d9d9d',
    link: '#4daafc',
    alarm: '#f85149',
  },
  'high contrast dark': {
    background: '#000000',
    foreground: '#ffffff',
    soft: 'rgba(255, 255, 255, 0.7)',
    link: '#21a6ff',
    alarm: '#f48771',
  },
  'high contrast light': {
    background: '#ffffff',
    foreground: '#292929',
    soft: 'rgba(41, 41, 41, 0.7)',
    link: '#0f4a85',
    alarm: '#b5200d',
  },
} as const;
