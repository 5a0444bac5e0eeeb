// For a test program that runs under node: hands it the figures file's name, since it does not see node's own environment,
// and sees that there are tests to run.
Module['preRun'] = [].concat(Module['preRun'] || [], () => {
  // A program without a main function would end well and have tested nothing.
  if (typeof _main === 'undefined') throw new Error('this program has no main function that its loader knows');
  if (process.env.FW_FIGURES) ENV.FW_FIGURES = process.env.FW_FIGURES;
});
