import { escapeStyleString } from './markup.js';

/**
 * Paper: always light, A4 and Letter alike (both have room for the wide lay-out), every page with its footer. Drawings, short
 * tables and, where a page has room for them, whole runs are not split; headings stay with what they head.
 *
 * @param foot what stands at the foot of each page, as plain text
 */
export function printStyle(foot: string): string {
  return `@page{margin:9mm 14mm 13mm;
@bottom-left{content:"${escapeStyleString(foot)}";font:8pt system-ui,"DejaVu Sans",sans-serif;color:#5d554c}
@bottom-right{content:counter(page) " of " counter(pages);font:8pt system-ui,"DejaVu Sans",sans-serif;color:#5d554c}}
@media print{
:root{--paper:#fff;--sheet:#fff;--grid:#e2e2e2;--t1:7.5pt;--t2:9.5pt;--t3:12pt;--t4:15pt;--s5:1.5rem;--s6:1.75rem}
*{print-color-adjust:exact;-webkit-print-color-adjust:exact}
body{line-height:1.42}
.page{padding:0;max-width:none} .head{padding-top:0} .answer{margin-top:var(--s3)} .stages{margin-bottom:var(--s3)}
a{color:inherit;text-decoration:none}
td,tbody th,.refs dt,.refs dd{font-size:8pt} td,tbody th{padding-top:.25rem;padding-bottom:.25rem}
.sheet{display:block} .scroll{overflow:visible} .refs,.words,.method,.cautions{max-width:none}
.margin{columns:3;column-gap:1.5rem;border:0;padding:0;margin-top:var(--s2)}
.margin section{break-inside:avoid}
figure,tr,.lead,.run,.short,.caution,.tb,.method p,.words div,.refs div,.cols>section{break-inside:avoid}
h2,h3,.nt,.cap,thead,.lead,.run>h3,.run>p{break-after:avoid}
thead{display:table-header-group}
p{orphans:3;widows:3}
/* A run has a page to itself: chart, plateaus, flags and how its log was read. */
.run{margin-top:0;padding-top:.4rem} .run figure{margin:.3rem 0} .run .table{margin:.5rem 0}
.run td,.run tbody th{padding-top:.15rem;padding-bottom:.15rem;line-height:1.3} .run .margin{line-height:1.3} .run .margin section+section{margin-top:.4rem} .run .margin .list li+li,.run .margin p+p{margin-top:.05rem} .run .margin section{break-inside:auto}
.recipe li{display:inline}
footer{margin-top:var(--s4);padding-bottom:0;break-inside:avoid}
}
`;
}
