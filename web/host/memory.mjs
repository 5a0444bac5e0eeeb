// Bytes from the page into the program's memory for the time of one call.
export function passBytes(program, bytes, use) {
  const at = program._malloc(Math.max(bytes.length, 1));
  // The view is taken after malloc: memory may have grown.
  program.HEAPU8.set(bytes, at);
  try {
    return use(at, bytes.length);
  } finally {
    program._free(at);
  }
}
