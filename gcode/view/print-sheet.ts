/**
 * Prints a page of HTML of our own making from within this page, so that nothing has to be opened beside it. Its style
 * is adopted for the printing only, its body stands at the end of ours, and both go when the printing is done.
 */
export const printHtml = (html: string): void => {
  // The content policy complains of styles in any text that is parsed: they are taken out before. The text is our own,
  // and names in it are escaped, so that neither pattern can stand in one.
  const rules = [...html.matchAll(/<style>([\s\S]*?)<\/style>/g)].map((m) => m[1]).join('\n');
  const plain = html.replace(/<style>[\s\S]*?<\/style>/g, '').replaceAll(' style="', ' data-style="');
  const page = new DOMParser().parseFromString(plain, 'text/html');
  const style = new CSSStyleSheet();
  style.replaceSync(`@media print { ${rules} }`);
  for (const s of page.querySelectorAll('script')) s.remove();
  const sheet = document.createElement('div');
  sheet.className = 'print-sheet';
  sheet.append(...page.body.childNodes);
  // A strict content policy passes over style attributes that come as text; set through the object model they hold.
  for (const e of sheet.querySelectorAll<HTMLElement | SVGElement>('[data-style]')) {
    e.style.cssText = e.dataset.style ?? '';
    e.removeAttribute('data-style');
  }
  document.body.append(sheet);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, style];
  window.addEventListener(
    'afterprint',
    () => {
      sheet.remove();
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((s) => s !== style);
    },
    { once: true },
  );
  window.print();
};
