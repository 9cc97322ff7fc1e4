/** Unpacks the script of the page, which the page's policy lets in by what it says, and begins it. */
import { unpacked } from './parts.ts';

const script = document.createElement('script');
script.textContent = await unpacked(globalThis.shootSpecParts.page);
document.head.append(script);
