/**
 * Prints a page of HTML of our own making from within this page, so that nothing has to be opened beside it. Its style
 * is adopted for the printing only, its body stands at the end of ours, and both go when the printing is done.
 */
export const printHtml = (html: string): void => {
  const page = new DOMParser().parseFromString(html, 'text/html');
  const style = new CSSStyleSheet();
  const rules = [...page.querySelectorAll('style')].map((s) => s.textContent ?? '').join('\n');
  style.replaceSync(`@media print { ${rules} }`);
  for (const s of page.querySelectorAll('style, script')) s.remove();
  const sheet = document.createElement('div');
  sheet.className = 'print-sheet';
  sheet.append(...page.body.childNodes);
  // A strict content policy passes over style attributes that come as text; set through the object model they hold.
  for (const e of sheet.querySelectorAll<HTMLElement>('[style]'))
    e.style.cssText = e.getAttribute('style') ?? '';
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
