// Hands the figures file's name to a test program that runs under node: such a program does not see node's own environment.
Module['preRun'] = [].concat(Module['preRun'] || [], () => {
  if (process.env.FW_FIGURES) ENV.FW_FIGURES = process.env.FW_FIGURES;
});
