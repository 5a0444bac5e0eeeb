// One worker: gets the compiled program once, then answers jobs one after the other.
import create from './compute.mjs';

let program = null;

async function answer(bytes) {
  const compute = await program;
  const at = compute._malloc(Math.max(bytes.length, 1));
  compute.HEAPU8.set(bytes, at);
  const ok = compute._fw_worker_run(at, bytes.length) === 1;
  compute._free(at);
  const from = compute._fw_worker_reply();
  const reply = compute.HEAPU8.slice(from, from + compute._fw_worker_reply_length());
  compute._fw_worker_free();
  postMessage({ ok, bytes: reply }, [reply.buffer]);
}

onmessage = ({ data }) => {
  if (data.module) {
    program = create({
      instantiateWasm(imports, take) {
        WebAssembly.instantiate(data.module, imports).then((instance) => take(instance));
        return {};
      },
    });
    return;
  }
  // An error that leaves here reaches the pool, which replaces this worker.
  answer(data.bytes).catch((error) => setTimeout(() => { throw error; }));
};
