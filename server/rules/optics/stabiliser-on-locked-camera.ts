import { defineRule, set } from '../../core/rule.ts';
import { percentText, quoted } from '../../core/say.ts';
import { isCarried } from './carried.ts';

export default defineRule({
  id: 'stabiliser-on-locked-camera',
  family: 'optics',
  summary: 'The stabiliser is on while a support holds the camera.',
  severity: 'info',
  sources: ['common practice, no source'],
  messages: {
    on: '{shot}: the stabiliser is on while {support} holds the camera: the picture may creep and snap back{price}. Turn it off.',
  },
  shot(shot, { report }) {
    const { stabiliser, support, body } = shot.camera;
    if (stabiliser?.value !== 'active' || !support || isCarried(support)) return;
    const crop = body?.stabiliserCrop ?? 1;
    const price = crop > 1 ? `, and it takes ${percentText(1 - 1 / crop)} of the width and of the pixels` : '';
    report({
      message: 'on',
      data: { shot: shot.name, support: quoted(support.name), price },
      at: stabiliser,
      cause: stabiliser,
      fixes: [
        set(crop > 1 ? 'Turn the stabiliser off (the picture gets wider)' : 'Turn the stabiliser off', [
          shot.camera,
          'stabiliser',
          'none',
        ]),
      ],
    });
  },
});
