import { drawingStyle } from './drawing-style.js';

/** The look of the page: tokens, text, tables, then narrower screens. Dark follows the system on a screen only. */
const tokens = `:root{color-scheme:light dark;
--t1:.75rem;--t2:.9375rem;--t3:1.1875rem;--t4:clamp(1.4rem,1.02rem + 1.35vw,2.05rem);
--face:Seravek,"Gill Sans Nova",Ubuntu,Calibri,"Segoe UI",system-ui,"DejaVu Sans",sans-serif;
--s1:.25rem;--s2:.5rem;--s3:1rem;--s4:1.75rem;--s5:3rem;--s6:4.25rem;
--paper:#f8f6f0;--sheet:#fcfbf7;--ink:#28221b;--ink2:#5d554c;--rule:#d0ccc2;--grid:#c9dee7;--accent:#215196;--accentsoft:#dce9fb;
--holds:#27694a;--look:#9d6810;--stop:#ae2e27;--metal:#c3cad1;--cell:#efe9dc;--board:#9abead;--zone:#6b6157;--shell:#a39e94;--film:#b47825;
--ticks:repeating-linear-gradient(90deg,var(--ink2) 0 1px,transparent 1px 8px) 0 0/100% 4px no-repeat}
@media screen and (prefers-color-scheme:dark){:root{
--paper:#211d19;--sheet:#282520;--ink:#e9e6dd;--ink2:#b4afa4;--rule:#4b4741;--grid:#2d3c42;--accent:#88bcf2;--accentsoft:#29384b;
--holds:#7cc39d;--look:#e3b667;--stop:#f68771;--metal:#7a8188;--cell:#37342d;--board:#355547;--zone:#999185;--shell:#6d6860;--film:#c9934b}}
`;

const text = `*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);font:400 var(--t2)/1.5 var(--face);font-variant-numeric:lining-nums tabular-nums;overflow-wrap:break-word}
.page{max-width:65.5rem;margin:0 auto;padding:0 2rem}
a{color:var(--accent);text-decoration-thickness:1px;text-underline-offset:.2em}
:focus-visible{outline:2px solid var(--accent);outline-offset:3px;border-radius:2px}
h1,h2,h3,p,dl,dd,figure,ul,ol{margin:0;padding:0}
ul,ol{list-style:none}
h1,h2{font-size:var(--t3);font-weight:600;line-height:1.3}
h3{font-size:var(--t2);font-weight:600;margin-top:var(--s4)}
small,.small{font-size:var(--t1);line-height:1.45;color:var(--ink2)}
td small,th small{display:block} td small.in{display:inline}
.dim,.no{color:var(--ink2)} .no{font-weight:400} .nb{white-space:nowrap} .lead b{font-weight:600}
.vh{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.head{display:flex;justify-content:space-between;align-items:center;gap:var(--s2) var(--s4);padding:var(--s3) 0;flex-wrap:wrap}
.mark{display:flex;align-items:center;gap:var(--s2);font-weight:600} .mark svg{display:block}
.invented{border:1px dashed var(--ink2);padding:.1rem .5rem;font-size:var(--t1);color:var(--ink2);white-space:nowrap}
.stages{position:relative;display:grid;grid-template-columns:repeat(7,minmax(0,1fr));column-gap:.6rem;row-gap:.6rem;padding-top:1.5rem;margin-bottom:var(--s4)}
.stages::before{content:"";position:absolute;left:0;right:0;top:.5rem;height:.5rem;border-top:1.5px solid var(--ink);background:var(--ticks)}
.stages>li{position:relative;min-width:0}
.stages>li::before{content:"";position:absolute;left:0;top:-1rem;width:1.5px;height:.72rem;background:var(--ink)}
.stages a{display:block;color:inherit;text-decoration:none;padding-bottom:.4rem}
.stages a:hover .nm{text-decoration:underline}
.stages .nm{display:block;font-weight:600;line-height:1.35}
.stages .state{display:block;font-size:var(--t1);line-height:1.35;color:var(--ink2)}
.stages .word{display:block;white-space:normal;text-wrap:balance;position:relative;padding-left:1.15rem}
.stages .word .lv{position:absolute;left:0;top:.1rem;margin:0}
.answer{font-size:var(--t4);line-height:1.28;letter-spacing:-.008em;text-wrap:pretty;margin:var(--s4) 0 var(--s3)}
.answer b{font-weight:600}
.cond{color:var(--ink2);max-width:52rem;text-wrap:pretty}
.warn{margin-top:var(--s3);padding-left:.8rem;border-left:3px solid var(--look)}
.part{margin-top:var(--s6);border-top:1.5px solid var(--ink);padding-top:var(--s3)}
.sheet{display:grid;grid-template-columns:42.5rem minmax(0,1fr);column-gap:2rem;align-items:start}
.sheet>*{min-width:0}
.part>.lead,.part>p,.part>ul,.cautions,.words,.refs{max-width:42.5rem}
.part>h2+*{margin-top:var(--s2)}
.margin{font-size:var(--t1);line-height:1.5;color:var(--ink2);border-left:1px solid var(--rule);padding-left:1rem}
.margin section+section{margin-top:var(--s3)}
.margin .nt{color:var(--ink);font-weight:600}
.margin p+p,.margin .list li+li{margin-top:.3rem}
.margin b{color:var(--ink);font-weight:600}
.contents li{padding-left:1.5em;text-indent:-1.5em} .contents .no{display:inline-block;width:1.5em;text-indent:0}
.lead{text-wrap:pretty;margin:var(--s1) 0 var(--s3)}
figure{margin:var(--s2) 0 var(--s3)}
.list li+li{margin-top:.4rem}
.method h3{margin-bottom:.15rem} .method p+p{margin-top:var(--s2)} .method{max-width:42.5rem}
.key{white-space:nowrap;font-size:var(--t1)}
.cols{display:grid;grid-template-columns:repeat(2,minmax(0,1fr));gap:var(--s4) 2rem}
.cols h3{margin:0 0 var(--s1)} .cols>section{border-top:1px solid var(--ink2);padding-top:var(--s2)} .cols>.next{border-top:1.5px solid var(--accent)}
.caution{border-left:3px solid var(--look);padding:.1rem 0 .1rem var(--s3);margin-top:var(--s3)}
.caution.stop{border-left:6px double var(--stop)} .caution h3{margin:0}
.run{margin-top:var(--s5);border-top:1px solid var(--ink2);padding-top:var(--s2)} .run>h3{margin:0;font-size:1.0625rem}
.run .sheet{margin-top:var(--s2)} .run td,.run th{padding-right:.55rem} .run td,.run tbody th{font-size:var(--t1)}
.hash{font-family:ui-monospace,"DejaVu Sans Mono",monospace;overflow-wrap:anywhere} .file{overflow-wrap:anywhere}
.words div,.refs div{display:grid;grid-template-columns:11rem minmax(0,1fr);column-gap:1rem;padding:.35rem 0;border-bottom:1px solid var(--rule)}
.words dt{font-weight:600} .refs dt,.refs dd{font-size:.8125rem}
.refs+p,.cautions+p{margin-top:var(--s3)}
footer{border-top:1.5px solid var(--ink);margin-top:var(--s6);padding:var(--s3) 0 var(--s5);font-size:var(--t1);color:var(--ink2);display:flex;gap:var(--s2) var(--s5);flex-wrap:wrap}
`;

const tables = `.table{margin:var(--s3) 0} .scroll{overflow-x:auto}
table{border-collapse:collapse;width:100%}
.cap{font-size:var(--t1);color:var(--ink2);padding-bottom:var(--s1);line-height:1.45}
th{font-weight:400;font-size:var(--t1);color:var(--ink2);text-align:left;vertical-align:bottom;padding:.2rem .8rem .4rem 0;border-bottom:1.5px solid var(--ink);line-height:1.3}
td,tbody th{padding:.4rem .8rem .4rem 0;border-bottom:1px solid var(--rule);vertical-align:top;font-size:.8125rem;line-height:1.35;color:var(--ink)}
tbody th{font-weight:400}
.r{text-align:right} td.r{white-space:nowrap}
tr>:last-child{padding-right:0}
tr.pick>*{font-weight:600} tr.pick small{font-weight:400}
td.dim{color:var(--ink2)}
.word{white-space:nowrap} .lv{display:inline-block;width:.82em;height:.82em;margin-right:.45em;vertical-align:-.08em}
.lv svg{display:block;width:100%;height:100%;overflow:visible}
.lv.holds{color:var(--holds)} .lv.look{color:var(--look)} .lv.stop{color:var(--stop)} .lv.none{color:var(--ink2)}
.tb{display:flex;flex-wrap:wrap;overflow:hidden;border:1.25px solid var(--ink);margin-top:var(--s3);font-size:var(--t1);line-height:1.35;width:fit-content;max-width:100%}
.tb div{padding:.3rem .8rem .35rem;box-shadow:1px 0 0 var(--rule),0 -1px 0 var(--rule)}
.tb dt{color:var(--ink2)} .tb dd{font-weight:600}
`;

/** Drawings are laid out for 680 and 350 px; the page shows the one there is room for. */
const screens = `.v-n,.vx-n{display:none}
@media screen and (max-width:63.9rem){
.page{max-width:46.5rem}
.sheet{grid-template-columns:minmax(0,1fr)}
.margin{columns:2;column-gap:2rem;border-left:0;border-top:1px solid var(--rule);padding:var(--s3) 0 0;margin-top:var(--s3)}
.margin section{break-inside:avoid}
}
@media screen and (max-width:46.4rem){
.page{padding:0 1.25rem}
.v-w,.vx-w{display:none} .v-n{display:block} .vx-n{display:inline} p.vx-n{display:block}
.margin{columns:1}
.stages{grid-template-columns:repeat(2,minmax(0,1fr))} .stages>li:nth-child(n+3)::before{display:none}
.cols{grid-template-columns:minmax(0,1fr)}
.tb{display:grid;grid-template-columns:1fr 1fr;width:auto}
.words div,.refs div{grid-template-columns:minmax(0,1fr)}
.scroll table{min-width:32rem} .many table{min-width:42rem}
/* What a row is about stays in sight while the rest is scrolled. */
tbody th{position:sticky;left:0;background:var(--paper);max-width:8.5rem;min-width:6rem} th .nb,th .word{white-space:normal}
.part{margin-top:var(--s5)}
}
`;

export const pageStyle = `${tokens}${text}${tables}${drawingStyle}${screens}`;
