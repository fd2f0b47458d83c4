import type { Page } from '@playwright/test';

/*
 * What a screen reader and a keyboard follow is the order of the document. It must be the order that is seen (WCAG 2.2, success
 * criteria 1.3.2 and 2.4.3; W3C techniques C27, read, and F44, from memory), and headings must be an outline (1.3.1, 2.4.6).
 */
export type ReadingOrder = { faults: string[]; headings: number; stops: number };

/** Where the order of a page as it stands is not the order that is seen, in words; and how much was looked at. */
export const readingOrder = (page: Page): Promise<ReadingOrder> =>
  page.evaluate(() => {
    const faults: string[] = [];
    const said = (element: Element): string => `<${element.localName}> ${(element.getAttribute('aria-label') ?? element.textContent).trim().slice(0, 40)}`;
    // What is only read, and not seen, has its place in the outline and none on the page.
    const read = (element: Element): boolean => element.checkVisibility({ visibilityProperty: true }) && !element.closest('[aria-hidden=true]');
    const seen = (element: Element): boolean => read(element) && !element.closest('.visually-hidden, .skip');

    if (document.title.trim() === '') faults.push('the page has no title');
    if (!document.documentElement.lang) faults.push('the page says no language');
    if (document.querySelectorAll('main').length !== 1) faults.push('the page has not one main part');
    for (const element of document.querySelectorAll('[tabindex]:not([tabindex="0"]):not([tabindex="-1"])')) faults.push(`${said(element)} jumps the queue`);
    for (const element of document.querySelectorAll('[aria-owns], [aria-flowto]')) faults.push(`${said(element)} is read in another order than it stands in`);
    const navigations = [...document.querySelectorAll('nav')]
      .filter(read)
      .map((nav) => nav.getAttribute('aria-label') ?? nav.getAttribute('aria-labelledby') ?? '');
    if (navigations.length > 1 && new Set(navigations).size < navigations.length) faults.push(`two navigations have one name: ${navigations.join(', ')}`);

    const headings = [...document.querySelectorAll('h1, h2, h3, h4, h5, h6')].filter(read);
    let level = 0;
    for (const heading of headings) {
      const next = Number(heading.localName.slice(1));
      if (next > level + 1) faults.push(`${said(heading)} follows a heading of level ${level}`);
      if (heading.textContent.trim() === '') faults.push(`an empty ${heading.localName}`);
      level = next;
    }
    const first = headings.filter((heading) => heading.localName === 'h1');
    if (first.length !== 1) faults.push(`the page has ${first.length} headings of the first level`);

    // What stays in its place while the page moves under it has an order of its own.
    const layerOf = (element: Element): Element | null => {
      for (let at: Element | null = element; at; at = at.parentElement) if (['fixed', 'sticky'].includes(getComputedStyle(at).position)) return at;
      return null;
    };
    const STOPS = 'a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"], h1, h2, h3, h4, h5, h6, p, dt, dd, li';
    const stops = [...document.querySelectorAll(`main :is(${STOPS})`)].filter((element) => seen(element) && !element.matches('svg *'));
    const lastOf = new Map<Element | null, { element: Element; last: DOMRect }>();
    for (const element of stops) {
      const rects = [...element.getClientRects()].filter((rect) => rect.width > 1 && rect.height > 1);
      const [start, last] = [rects[0], rects.at(-1)];
      if (!start || !last) continue;
      const layer = layerOf(element);
      const before = lastOf.get(layer);
      if (before && !before.element.contains(element)) {
        const { last: then } = before;
        const above = start.bottom <= then.top + 1 && start.left < then.right - 1;
        const overlap = Math.min(start.bottom, then.bottom) - Math.max(start.top, then.top);
        const leftOf = start.right <= then.left + 1 && overlap > Math.min(start.height, then.height) / 2;
        if (above || leftOf) faults.push(`${said(element)} is read after ${said(before.element)}, and stands ${above ? 'above' : 'left of'} it`);
      }
      lastOf.set(layer, { element, last });
    }
    return { faults, headings: headings.length, stops: stops.length };
  });
