import { escapeStyleString } from './markup.js';

/**
 * Paper: always light, A4 and Letter alike (both have room for the wide lay-out), every page with its footer. Drawings, rows and
 * notes stay whole, headings stay with what they head.
 *
 * @param foot what stands at the foot of each page, as plain text
 */
export function printStyle(foot: string): string {
  return `@page{margin:13mm 14mm 17mm;
@bottom-left{content:"${escapeStyleString(foot)}";font:8pt system-ui,"DejaVu Sans",sans-serif;color:#5d554c}
@bottom-right{content:counter(page) " of " counter(pages);font:8pt system-ui,"DejaVu Sans",sans-serif;color:#5d554c}}
@media print{
:root{--paper:#fff;--sheet:#fff;--grid:#e2e2e2;--t1:7.5pt;--t2:9.5pt;--t3:12pt;--t4:16pt;--s5:1.5rem;--s6:1.75rem}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}
body{line-height:1.42}
.page{padding:0;max-width:none} .head{padding-top:0}
a{color:inherit;text-decoration:none}
td,tbody th,.refs dt,.refs dd{font-size:8pt} td,tbody th{padding-top:.25rem;padding-bottom:.25rem}
.sheet{display:block} .scroll{overflow:visible;max-width:none!important}
.margin{columns:3;column-gap:1.5rem;border:0;padding:0;margin-top:var(--s2)}
.margin section{break-inside:avoid}
figure,tr,.caution,.tb,.method p,.words div,.refs div,.cols>section{break-inside:avoid}
h2,h3,caption,thead,.lead,.run>h3,.run>p{break-after:avoid}
thead{display:table-header-group}
p{orphans:3;widows:3}
footer{margin-top:var(--s4);padding-bottom:0;break-inside:avoid}
}
`;
}
