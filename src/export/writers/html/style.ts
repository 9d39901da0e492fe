import { DARK, LIGHT, type PageFormat, type Palette, type SpecDocument } from '../../document/index.ts';
import { cssString } from './text.ts';

function variables(palette: Palette): string {
  const names: readonly (readonly [string, string])[] = [
    ['ink', palette.ink],
    ['muted', palette.muted],
    ['rule', palette.rule],
    ['paper', palette.paper],
    ['shade', palette.shade],
    ['stripe', palette.stripe],
    ['accent', palette.accent],
    ['stop', palette.stop],
    ['stop-shade', palette.stopShade],
    ['caution', palette.caution],
    ['caution-shade', palette.cautionShade],
    ['on-stop', palette.onStop],
  ];
  return names.map(([name, value]) => `--${name}:${value}`).join(';');
}

const SCREEN = `
*{box-sizing:border-box}
html{font:15px/1.5 system-ui,sans-serif;color:var(--ink);background:var(--paper);scroll-padding-top:4rem;-webkit-text-size-adjust:100%}
body{margin:0;overflow-wrap:anywhere}
a{color:var(--accent);text-underline-offset:2px}
:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.skip{position:absolute;left:-100vw;top:0}
.skip:focus{left:1rem;top:1rem;z-index:9;background:var(--paper);padding:.5rem 1rem}
.bar{position:sticky;top:0;z-index:5;margin:0;max-width:none;padding:.5rem 1.5rem;background:var(--stop);color:var(--on-stop);font-weight:700;text-align:center}
.watermark{display:none}
.page{max-width:110rem;margin:0 auto;padding:1.5rem}
h1{font-size:1.9rem;line-height:1.2;margin:.5rem 0 .2rem}
h2{font-size:1.35rem;line-height:1.25;margin:2.5rem 0 .75rem;padding-top:.75rem;border-top:2px solid var(--ink)}
h3{font-size:1.1rem;margin:1.75rem 0 .5rem}
h4,.title{font-size:1rem;font-weight:700;margin:1.5rem 0 .4rem}
h2 .no{margin-right:.6em;color:var(--muted)}
.subtitle{margin:0 0 1.25rem;color:var(--muted);font-size:1.1rem}
p,ul,ol,dl{max-width:52rem;margin:.5rem 0}
dl{display:grid;grid-template-columns:minmax(7rem,max-content) 1fr;gap:.15rem 1.25rem}
dt{color:var(--muted)}
dd{margin:0}
nav ol{list-style:none;padding:0;margin:.5rem 0}
nav ol ol{padding-left:3rem;margin:0}
nav a{display:inline-block;min-height:1.6rem}
nav .no{display:inline-block;min-width:1.75rem;padding-right:.5rem;color:var(--muted)}
code,pre,.mono{font-family:ui-monospace,"DejaVu Sans Mono",Menlo,Consolas,monospace;font-size:.92em}
pre{margin:.5rem 0;padding:.75rem 1rem;background:var(--shade);white-space:pre-wrap;overflow-wrap:anywhere}
.box{font-size:1.2em;line-height:1}
ul.check{list-style:none;padding-left:0}
ul.check>li::before{content:"\\2610";margin-right:.6em}
.note-box{max-width:52rem;margin:.75rem 0;padding:.6rem 1rem;border-left:5px solid var(--accent);background:var(--shade)}
.note-box>strong:first-child{display:block;color:var(--accent)}
.note-box.stop{border-color:var(--stop);background:var(--stop-shade)}
.note-box.stop>strong:first-child{color:var(--stop)}
.note-box.caution{border-color:var(--caution);background:var(--caution-shade)}
.note-box.caution>strong:first-child{color:var(--caution)}
figure{margin:1.25rem 0}
figcaption,caption{font-weight:700;text-align:left;padding:.25rem 0}
figure.drawing svg{max-width:100%;height:auto;display:block}
.table>.note,.drawing>.note,.empty{color:var(--muted);font-size:.92em}
.scroll{overflow:auto;max-height:85vh}
table{border-collapse:separate;border-spacing:0;font-size:.87rem;line-height:1.35;font-variant-numeric:tabular-nums lining-nums}
th,td{padding:.28rem .55rem;text-align:left;vertical-align:top;border-bottom:1px solid var(--rule);background:var(--paper);max-width:26rem;overflow-wrap:break-word}
td,tbody th{min-width:3.5ch}
tbody th{font-weight:700}
thead{position:sticky;top:0;z-index:3}
thead th,thead td{background:var(--shade);vertical-align:bottom;border-bottom:2px solid var(--ink);overflow-wrap:normal;min-width:4ch}
thead .groups th,thead .groups td{border-bottom:0;color:var(--accent);padding-bottom:0;font-size:.92em}
.keyed tbody th,.keyed thead tr>:first-child{position:sticky;left:0;z-index:1}
tbody tr{scroll-margin-top:5.5rem}
tbody tr:nth-child(even)>*{background:var(--stripe)}
tbody tr.stop>*{background:var(--stop-shade)}
tbody tr.caution>*{background:var(--caution-shade)}
tbody tr:target>*{box-shadow:inset 0 2px var(--accent),inset 0 -2px var(--accent)}
.num,.right{text-align:right}
.num,.entry,.center{white-space:normal}
.center{text-align:center}
.entry{min-width:9rem}
.entries td,.entries th{border-right:1px solid var(--rule)}
.mark{display:block;font:700 .85em/1.3 system-ui,sans-serif;color:var(--accent)}
.mark.stop{color:var(--stop)}
.mark.caution{color:var(--caution)}
footer{margin-top:3rem;padding-top:.75rem;border-top:1px solid var(--rule);color:var(--muted);font-size:.87rem}
`;

const PRINT = `
html{font-size:9.5pt;line-height:1.4;background:#fff}
.skip,.bar{display:none}
.page{max-width:none;padding:0}
h2,h3,h4,.title,caption,figcaption{break-after:avoid}
h2{margin-top:1.5rem}
.starts-page{break-before:page}
.page-break{break-after:page}
.note-box,figure.drawing,li,dl>*{break-inside:avoid}
a{text-decoration:none}
.scroll{overflow:visible;max-height:none}
table{font-size:7pt;line-height:1.25;width:100%}
thead{display:table-header-group;position:static}
tr{break-inside:avoid}
th,td{padding:1.5pt 3pt;min-width:0;max-width:none;border-bottom:.4pt solid var(--rule);overflow-wrap:break-word}
thead th,thead td{border-bottom:.8pt solid var(--ink)}
.keyed tbody th,.keyed thead tr>:first-child{position:static}
.entries tbody td,.entries tbody th{height:16pt}
.tiers .groups{display:none}
.tiers thead,.tiers tbody{width:100%}
.tiers tbody{display:block}
.tiers tr{display:flex;flex-wrap:wrap;align-items:flex-start;border-bottom:.6pt solid var(--muted)}
.tiers thead tr{border-bottom:.8pt solid var(--ink);background:var(--shade)}
.tiers tbody tr:nth-child(even){background:var(--stripe)}
.tiers tbody tr.stop{background:var(--stop-shade)}
.tiers tbody tr.caution{background:var(--caution-shade)}
.tiers th,.tiers td{border-bottom:0;overflow-wrap:anywhere}
.tiers tbody tr>*{background:none!important}
.tiers thead th{border-bottom:0;background:none}
pre{font-size:7.5pt}
*{-webkit-print-color-adjust:exact;print-color-adjust:exact}
`;

const WATERMARK = `
.watermark{display:flex;position:fixed;inset:0;z-index:8;align-items:center;justify-content:center;pointer-events:none}
.watermark span{transform:rotate(-45deg);font-size:60pt;font-weight:800;white-space:nowrap;color:var(--stop);opacity:.1}
`;

/** The name of the CSS page for a paper format. */
export function pageName(page: PageFormat): string {
  return `${page.paper}-${page.orientation}`.toLowerCase();
}

function pageRules(document: SpecDocument): string {
  const { stamp, mark } = document;
  const quiet = 'font:7pt system-ui,sans-serif;color:#4d5b69';
  const words =
    mark === null
      ? ''
      : `@top-center{content:${cssString(`${mark.text} — ${mark.reason}`)};width:60%;padding:1.5mm 2mm;margin:3mm 0;background:${LIGHT.stop};color:${LIGHT.onStop};font:700 8pt system-ui,sans-serif;text-align:center}`;
  const boxes =
    `@top-left{content:${cssString(document.title)};${quiet}}` +
    words +
    `@top-right{content:${cssString(`Revision ${stamp.revision}`)};${quiet}}` +
    `@bottom-left{content:${cssString(`${document.cautions[0] ?? ''} Digest ${stamp.digest}`)};width:76%;${quiet}}` +
    `@bottom-right{content:${cssString(`${stamp.date}  Page `)} counter(page) " of " counter(pages);width:24%;text-align:right;${quiet}}`;
  const formats = new Map<string, PageFormat>();
  for (const section of document.sections)
    if (section.page !== undefined) formats.set(pageName(section.page), section.page);
  const named = [...formats].map(([name, page]) => `@page ${name}{size:${page.paper} ${page.orientation}}`).join('\n');
  return `@page{size:${document.page.paper} ${document.page.orientation};margin:20mm 12mm 17mm;${boxes}}\n${named}`;
}

/** The style sheet of the page: light and dark by the reader's system, paper always light. */
export function styleSheet(document: SpecDocument, tableStyles: string): string {
  return (
    `:root{color-scheme:light dark;${variables(LIGHT)}}` +
    `\n@media screen and (prefers-color-scheme:dark){:root{${variables(DARK)}}}` +
    `${SCREEN}@media print{:root{color-scheme:light}${PRINT}${document.mark === null ? '' : WATERMARK}}\n` +
    `${pageRules(document)}\n${tableStyles}\n`
  );
}
