import { createRequire } from 'node:module';

interface Jsdom {
  readonly JSDOM: new (
    html?: string,
    options?: { readonly runScripts?: 'dangerously' },
  ) => { readonly window: { readonly document: Document; readonly DOMParser: new () => DOMParser } };
}

// jsdom's types are not installed; these are the parts that the tests use.
const { JSDOM } = createRequire(import.meta.url)('jsdom') as Jsdom;

/** The page of an HTML text. Scripts are allowed to run, so that a page that has one would show it. */
export function pageOf(html: string): Document {
  return new JSDOM(html, { runScripts: 'dangerously' }).window.document;
}

/** Whether a text is well-formed XML: DOM Parsing gives one that is not as a document with a parsererror element. */
export function isWellFormedXml(xml: string): boolean {
  const Parser = new JSDOM().window.DOMParser;
  return new Parser().parseFromString(xml, 'application/xml').getElementsByTagName('parsererror').length === 0;
}
