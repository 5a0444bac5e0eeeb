// A dish inside the address: deflated and written in the 64 characters that addresses take unharmed.
import { passBytes } from './memory.mjs';

const mark = '#dish=';
const largestText = 4 * 1024 * 1024; // inflated; a few bytes could otherwise fill the memory

class TooLarge extends Error {}

async function pack(text) {
  const stream = new Blob([text]).stream().pipeThrough(new CompressionStream('deflate-raw'));
  const bytes = new Uint8Array(await new Response(stream).arrayBuffer());
  let letters = '';
  for (const byte of bytes) letters += String.fromCharCode(byte);
  return btoa(letters).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}

async function unpack(packed) {
  const bytes = Uint8Array.from(atob(packed.replace(/-/g, '+').replace(/_/g, '/')), (letter) => letter.charCodeAt(0));
  const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader();
  const parts = [];
  let length = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    length += value.length;
    if (length > largestText) {
      reader.cancel();
      throw new TooLarge();
    }
    parts.push(value);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

export function makeLink(host) {
  async function read() {
    if (!location.hash.startsWith(mark)) return;
    let bytes = new Uint8Array();
    let trouble = '';
    try {
      bytes = await unpack(location.hash.slice(mark.length));
    } catch (error) {
      // The browser's own words speak of encodings; what a person can do is ask for the link again.
      trouble = error instanceof TooLarge
        ? `The link holds more than ${largestText / 1024 / 1024} MB: ask for the file instead.`
        : 'The link is damaged or was cut short on its way: ask for it again, or for the file.';
    }
    passBytes(host.program, bytes, (at, length) =>
      host.program.ccall('fw_linked_text', null, ['number', 'number', 'string'], [at, length, trouble]));
    // Once opened, the dish is the person's own: reloading must bring back their work, not the link's.
    history.replaceState(null, '', location.pathname + location.search);
  }

  addEventListener('hashchange', () => { if (host.program) read(); });

  return {
    read,
    async make(text) {
      const address = location.origin + location.pathname + mark + await pack(text);
      const copied = await host.clipboard.write(address);
      host.program.ccall('fw_made_link', null, ['string', 'number'], [address, copied ? 1 : 0]);
    },
  };
}
