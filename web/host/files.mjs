// Files by choosing, dropping and pasting, and files given out. Pictures are decoded upright and brought down to a size
// that every device can hold.
import { passBytes } from './memory.mjs';

const largestSide = 4096;
const largestFile = 256 * 1024 * 1024;

async function decode(file) {
  if (!file.type.startsWith('image/') || file.type.includes('svg')) return null;
  let bitmap;
  try {
    bitmap = await createImageBitmap(file);
  } catch {
    return null; // no picture after all; the bytes still go in and are judged there
  }
  const scale = Math.min(1, largestSide / Math.max(bitmap.width, bitmap.height));
  const width = Math.max(1, Math.round(bitmap.width * scale));
  const height = Math.max(1, Math.round(bitmap.height * scale));
  const pen = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  pen.imageSmoothingQuality = 'high';
  pen.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  return { width, height, scale, bytes: pen.getImageData(0, 0, width, height).data };
}

export function makeFiles(host) {
  const chooser = document.getElementById('chooser');

  function deliver(name, bytes, picture, trouble = '') {
    const { program } = host;
    passBytes(program, bytes, (at, length) => {
      const call = (pixels) => program.ccall('fw_file_arrived', null, ['string', 'number', 'number', 'number', 'number', 'number', 'number', 'string'],
        [name, at, length, pixels, picture?.width ?? 0, picture?.height ?? 0, picture?.scale ?? 1, trouble]);
      if (picture) passBytes(program, picture.bytes, call);
      else call(0);
    });
  }

  async function take(list) {
    for (const file of [...list]) {
      if (file.size > largestFile) {
        deliver(file.name, new Uint8Array(), null, `it is larger than ${largestFile / 1024 / 1024} MB`);
        continue;
      }
      try {
        deliver(file.name, new Uint8Array(await file.arrayBuffer()), await decode(file));
      } catch (error) {
        deliver(file.name, new Uint8Array(), null, `the browser could not read it (${error.message})`);
      }
    }
  }

  return {
    take,
    choose(accept) {
      chooser.accept = accept;
      chooser.value = '';
      chooser.click();
    },
    save(name, mime, bytes) {
      const link = document.createElement('a');
      link.href = URL.createObjectURL(new Blob([bytes], { type: mime }));
      link.download = name;
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
    },
    listen() {
      chooser.addEventListener('change', () => take(chooser.files));
      const hover = (on) => host.program._fw_files_hover(on ? 1 : 0);
      addEventListener('dragover', (event) => { event.preventDefault(); hover(true); });
      addEventListener('dragleave', (event) => { if (!event.relatedTarget) hover(false); });
      addEventListener('drop', (event) => {
        event.preventDefault();
        hover(false);
        take(event.dataTransfer.files);
      });
    },
  };
}
