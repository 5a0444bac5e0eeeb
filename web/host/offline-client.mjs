// Keeps a copy of the page for use without a network, and takes a newer version over only when the person agrees.
export function makeOffline(host) {
  let registration = null;
  let reloading = false;

  const report = (update) => host.program?._fw_offline_state(navigator.serviceWorker.controller ? 1 : 0, update ? 1 : 0);

  return {
    async register() {
      if (!('serviceWorker' in navigator) || !isSecureContext) return;
      try {
        registration = await navigator.serviceWorker.register('offline.js');
      } catch (error) {
        console.warn(`no offline copy: ${error.message}`);
        return;
      }
      navigator.serviceWorker.addEventListener('controllerchange', () => {
        if (reloading) location.reload();
        else report(false);
      });
      const watch = (worker) => worker?.addEventListener('statechange', () => {
        if (worker.state === 'installed') report(Boolean(navigator.serviceWorker.controller));
      });
      registration.addEventListener('updatefound', () => watch(registration.installing));
      watch(registration.installing);
      report(Boolean(registration.waiting));
    },
    takeUpdate() {
      host.storage.flush();
      reloading = true;
      registration?.waiting?.postMessage('take over');
    },
  };
}
