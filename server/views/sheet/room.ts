/** How wide a page of paper is, in CSS pixels: A4 and Letter, less what every printer leaves free. */
import type { Room } from '../page.ts';

/** 186 mm: so that letters are as large on paper as they are drawn. */
export const paper: Room = { width: 700 };

/** One of two pictures side by side, so high that a page also holds what is said of them. */
export const half: Room = { width: 342, height: 250, bare: true };

/** The recorded picture of a shot, beside its settings. */
export const third: Room = { width: 222, height: 210, bare: true };
