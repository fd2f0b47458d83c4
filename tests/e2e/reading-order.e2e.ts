import { expect, test } from '@playwright/test';
import { readingOrder } from './reading-order.ts';

// The check that every inspected page goes through, on pages made to fail it.

const page = (main: string, head = '<title>A page</title>'): string => `<!doctype html><html lang="en">${head}<body><main>${main}</main></body></html>`;
const TWO = '<button>One</button><button>Two</button>';

for (const [what, html, fault] of [
  ['a heading that skips a level', page('<h1>A</h1><h3>B</h3>'), '<h3> B follows a heading of level 1'],
  ['a page that starts with a heading of the second level', page('<h2>A</h2><h1>B</h1>'), '<h2> A follows a heading of level 0'],
  ['an empty heading', page('<h1>A</h1><h2><br></h2>'), 'an empty h2'],
  ['two first headings', page('<h1>A</h1><h1>B</h1>'), 'the page has 2 headings of the first level'],
  ['no heading', page('<p>A</p>'), 'the page has 0 headings of the first level'],
  ['a control that jumps the queue', page('<h1>A</h1><button tabindex="3">Late</button>'), '<button> Late jumps the queue'],
  [
    'rows turned by style',
    page(`<h1>A</h1><div style="display:flex;flex-direction:row-reverse">${TWO}</div>`),
    '<button> Two is read after <button> One, and stands left of it',
  ],
  [
    'a column turned by style',
    page(`<h1>A</h1><div style="display:flex;flex-direction:column-reverse">${TWO}</div>`),
    '<button> Two is read after <button> One, and stands above it',
  ],
  [
    'a paragraph moved up by its order',
    page('<div style="display:grid"><h1>A</h1><p style="order:-1">B</p></div>'),
    '<p> B is read after <h1> A, and stands above it',
  ],
  [
    'a bar turned by style',
    page(`<h1>A</h1><div style="position:fixed;bottom:0;display:flex;flex-direction:row-reverse">${TWO}</div>`),
    '<button> Two is read after <button> One, and stands left of it',
  ],
  ['an order of its own for readers', page('<h1>A</h1><div aria-owns="x">B</div><p id="x">C</p>'), '<div> B is read in another order than it stands in'],
  ['two navigations of one name', page('<h1>A</h1><nav>B</nav><nav>C</nav>'), 'two navigations have one name: , '],
  ['no title', page('<h1>A</h1>', ''), 'the page has no title'],
  ['no language', page('<h1>A</h1>').replace(' lang="en"', ''), 'the page says no language'],
  ['two main parts', page('<h1>A</h1>').replace('</main>', '</main><main></main>'), 'the page has not one main part'],
] as const)
  test(`the check of the reading order finds ${what}`, async ({ page: browserPage }) => {
    await browserPage.setContent(html);
    expect((await readingOrder(browserPage)).faults).toEqual([fault]);
  });

test('the check of the reading order accepts columns, rows that wrap, lists in lists and a bar that stays', async ({ page: browserPage }) => {
  await browserPage.setContent(
    page(`<h1>A</h1><div style="display:flex"><div><h2>B</h2><p>C</p><p>D</p></div><div><h2>E</h2><p>F</p></div></div>
      <p style="width:9em">Some words and <a href="#a">a link that wraps over two lines</a> and <a href="#b">another link</a>.</p>
      <ul><li>G<ul><li>H</li></ul></li><li>I</li></ul><div style="position:fixed;top:0"><button>Stop</button></div><h2 class="visually-hidden">J</h2><h3>K</h3><h2>L</h2>`),
  );
  expect(await readingOrder(browserPage)).toEqual({ faults: [], headings: 6, stops: 15 });
});
