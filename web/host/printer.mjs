// Prints SVG pages: put into the document, shown only on paper.
export function makePrinter() {
  const sheets = document.getElementById('sheets');
  addEventListener('afterprint', () => sheets.replaceChildren());
  return {
    add(svg) {
      const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
      sheets.append(document.importNode(parsed, true));
    },
    print() { window.print(); },
  };
}
