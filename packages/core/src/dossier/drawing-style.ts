/** What the classes in the drawings mean. Text in them is never scaled. */
export const drawingStyle = `svg.d{display:block;max-width:100%;height:auto;overflow:visible}
.d text{font:400 12px/1 var(--face);fill:var(--ink);font-variant-numeric:lining-nums tabular-nums}
.d .q{fill:var(--ink2)} .d .b{font-weight:600} .d .a{fill:var(--accent)} .d .e{text-anchor:end} .d .m{text-anchor:middle}
.d .halo{paint-order:stroke;stroke:var(--paper);stroke-width:4px;stroke-linejoin:round}
.d .ln{stroke:var(--ink);fill:none;stroke-width:1.25} .d .hl{stroke:var(--ink2);fill:none;stroke-width:1} .d .ru{stroke:var(--rule);fill:none;stroke-width:1}
.d .gr{stroke:var(--grid);fill:none;stroke-width:1}
.d .ac{stroke:var(--accent);fill:none;stroke-width:1.75} .d .acf{fill:var(--accent)} .d .inkf{fill:var(--ink)}
.d .soft{fill:var(--accentsoft)} .d .dash{stroke-dasharray:4 3} .d .dot{stroke-dasharray:1.5 3}
.d .shell{fill:var(--paper);stroke:var(--ink);stroke-width:1.25} .d .hatch{stroke:var(--shell);stroke-width:1;fill:none}
.d .bd{fill:var(--board);stroke:var(--ink);stroke-width:1} .d .zn{fill:var(--zone);stroke:var(--ink);stroke-width:1}
.d .pl{fill:var(--metal);stroke:var(--ink);stroke-width:1} .d .fm{fill:var(--film)} .d .sp{fill:var(--ink2);stroke:none}
.d .ce{fill:var(--cell);stroke:var(--ink);stroke-width:1.25}
.d .over{fill:none!important}
.d .onfield{--ink:#28221b;--ink2:#5d554c;--sheet:#fcfbf7;--paper:#f8f6f0;--accent:#215196}
.d .chip{fill:var(--sheet);stroke:var(--ink);stroke-width:1}
.d .lim{stroke:var(--stop);stroke-width:1.75;fill:none}
.d .thick{stroke:var(--ink);stroke-width:5;fill:none} .d .thin{stroke:var(--ink);stroke-width:1.25;fill:none}
.d .thick.ac{stroke:var(--accent);stroke-width:5} .d .thin.ac{stroke:var(--accent);stroke-width:1.25}
.d .pt{fill:var(--paper);stroke:var(--ink);stroke-width:1.75} .d .pt.ac{stroke:var(--accent)}
.d .iso{fill:none;stroke:#2a2420;stroke-width:.8;stroke-opacity:.75}
.d .raw{stroke:var(--ink2);stroke-width:1.5;fill:none}
.d .lv{width:auto;height:auto}
`;
