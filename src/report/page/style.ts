import { EVIDENCE_STYLE, ZOOM_STYLE } from './evidence-style.ts';

/** Colours, type and spacing; light, dark and paper. The console page uses the same ones. */
export const TOKENS = `
:root{
  color-scheme:light dark;
  --tw-paper:#fbfaf7;--tw-card:#ffffff;--tw-ink:#1c2126;--tw-soft:#59626b;--tw-rule:#d9d5cc;--tw-faint:#efece5;
  --tw-pass:#1b6b45;--tw-fail:#a3261d;--tw-open:#8a5a00;--tw-none:#59626b;
  --tw-signal:#1f5f8b;--tw-trip:#b0301f;--tw-band:#3d7d5a;--tw-limit:#1c2126;--tw-normal:#59626b;--tw-acted:#1f5f8b;
  --tw-sans:system-ui,-apple-system,"Segoe UI","Noto Sans","DejaVu Sans",sans-serif;
  --tw-mono:ui-monospace,"DejaVu Sans Mono",Menlo,Consolas,monospace;
}
@media (prefers-color-scheme:dark){:root{
  --tw-paper:#14181c;--tw-card:#1b2126;--tw-ink:#e8e6e1;--tw-soft:#a3abb3;--tw-rule:#343c44;--tw-faint:#242b31;
  --tw-pass:#6cc99a;--tw-fail:#ff8f7e;--tw-open:#e5b454;--tw-none:#a3abb3;
  --tw-signal:#7db8e0;--tw-trip:#ff9a86;--tw-band:#6cc99a;--tw-limit:#e8e6e1;--tw-normal:#a3abb3;--tw-acted:#4b8db8;
}}
@media print{:root{
  color-scheme:light;
  --tw-paper:#fff;--tw-card:#fff;--tw-ink:#000;--tw-soft:#444;--tw-rule:#ccc;--tw-faint:#eee;
  --tw-pass:#000;--tw-fail:#000;--tw-open:#000;--tw-none:#444;
  --tw-signal:#000;--tw-trip:#000;--tw-band:#555;--tw-limit:#000;--tw-normal:#555;--tw-acted:#444;
}}
`;

/** Verdict marks: shape, word and border differ, so that they can be told apart without colour. */
export const MARK_STYLE = `
.tw-mark{display:inline-flex;align-items:center;gap:.4em;font-weight:700;letter-spacing:.02em;white-space:nowrap;
  padding:.12em .6em;border-radius:3px;border:1.5px solid currentColor;font-size:.9em}
.tw-mark i{font-style:normal;font-size:1.1em;line-height:1}
.tw-pass{color:var(--tw-pass)}
.tw-mark.tw-pass{background:var(--tw-pass);color:var(--tw-card);border-color:var(--tw-pass);-webkit-print-color-adjust:exact;print-color-adjust:exact}
.tw-fail{color:var(--tw-fail)}
.tw-mark.tw-fail{border-width:3.5px}
.tw-inconclusive{color:var(--tw-open)}
.tw-mark.tw-inconclusive{border-style:dashed;border-width:2px}
.tw-not-tested{color:var(--tw-none)}
.tw-mark.tw-not-tested{border-style:dotted;border-width:2px;font-weight:600}
`;

/** Lines and areas of plots; line styles differ beside the colours. */
export const PLOT_STYLE = `
.tw-plot,.tw-line{display:block;width:100%;height:auto;font-family:var(--tw-sans);font-size:12px}
.tw-line{max-width:620px}
.tw-plot text,.tw-line text{fill:var(--tw-ink)}
.tw-plot .tw-tick,.tw-line .tw-tick{fill:var(--tw-soft);font-size:11px}
.tw-plot .tw-axis-name{font-weight:600}
.tw-plot .tw-strip-name{font-size:11.5px}
.tw-grid{stroke:var(--tw-rule);stroke-width:.6}
.tw-frame{fill:none;stroke:var(--tw-soft);stroke-width:.8}
.tw-axis,.tw-tick-line{stroke:var(--tw-ink);stroke-width:1.2}
.tw-signal{fill:var(--tw-signal);stroke:var(--tw-signal);stroke-width:1.4;stroke-linejoin:round;fill-opacity:.45}
.tw-normal{stroke:var(--tw-normal);stroke-width:1.2;stroke-dasharray:1.5 3}
.tw-set-point{stroke:var(--tw-band);stroke-width:1.8;stroke-dasharray:8 4}
.tw-limit{stroke:var(--tw-limit);stroke-width:2.4}
path.tw-trip{fill:none;stroke:var(--tw-trip);stroke-width:2.6}
.tw-plot .tw-trip-name,.tw-line .tw-trip-name{fill:var(--tw-trip);font-weight:700}
.tw-lead{fill:none;stroke:var(--tw-soft);stroke-width:.7}
.tw-band{stroke:none}
.tw-band-ground{fill:var(--tw-band);fill-opacity:.1}
.tw-band-line{stroke:var(--tw-band);stroke-width:1.4;stroke-opacity:.45}
.tw-doubt-ground{fill:var(--tw-card)}
.tw-doubt-line{stroke:var(--tw-trip);stroke-width:3}
.tw-gap-ground{fill:var(--tw-faint)}
.tw-gap-line{stroke:var(--tw-soft);stroke-width:1;stroke-opacity:.6}
.tw-allowed{fill:none;stroke:var(--tw-ink);stroke-width:1.8}
.tw-left-ground{stroke:none;fill-opacity:.75}
.tw-left{fill:none;stroke:var(--tw-trip);stroke-width:2.2;stroke-linejoin:round}
.tw-beyond{fill:none;stroke:var(--tw-trip);stroke-width:2.6}
.tw-declared{fill:none;stroke:var(--tw-ink);stroke-width:1.6}
.tw-moment{fill:var(--tw-trip);fill-opacity:.16}
.tw-rest{fill:var(--tw-faint);stroke:var(--tw-rule);stroke-width:.8}
.tw-acted{fill:var(--tw-acted);stroke:var(--tw-acted);stroke-width:.8}
.tw-plot .tw-state{font-size:11px}
.tw-plot .tw-state-acted{fill:#fff;font-weight:600}
.tw-change{fill:none;stroke:var(--tw-trip);stroke-width:1.4}
@media print{.tw-acted,.tw-rest,.tw-signal,.tw-band-ground,.tw-moment{-webkit-print-color-adjust:exact;print-color-adjust:exact}}
`;

const PAGE_STYLE = `
*{box-sizing:border-box}
body{margin:0;background:var(--tw-paper);color:var(--tw-ink);font:15px/1.5 var(--tw-sans);-webkit-text-size-adjust:100%}
.tw-main,header.tw-head,footer{max-width:1040px;margin:0 auto;padding:0 24px}
header.tw-head{padding-top:36px}
h1{font-size:1.75rem;line-height:1.2;margin:0 0 .2em;letter-spacing:-.01em}
h2{font-size:1.2rem;margin:2.2em 0 .7em;letter-spacing:-.005em}
h3{font-size:1.08rem;margin:0}
h4{font-size:.82rem;text-transform:uppercase;letter-spacing:.07em;color:var(--tw-soft);margin:1.6em 0 .5em}
p{margin:.4em 0}
.tw-sub{color:var(--tw-soft)}
.tw-tally{display:flex;flex-wrap:wrap;gap:10px 22px;margin:18px 0 0;padding:0;list-style:none}
.tw-tally b{font-size:1.15em;margin-left:.35em}
table{border-collapse:collapse;width:100%;font-size:.93em}
caption{text-align:left;color:var(--tw-soft);padding-bottom:.4em}
th,td{text-align:left;padding:.5em .8em .5em 0;border-bottom:1px solid var(--tw-rule);vertical-align:top}
thead th{font-size:.8em;color:var(--tw-soft);font-weight:600;border-bottom:1.5px solid var(--tw-ink)}
tbody th{font-weight:600}
a{color:inherit;text-underline-offset:.2em;text-decoration-color:var(--tw-soft)}
.tw-num{font-variant-numeric:tabular-nums;white-space:nowrap}
.tw-scroll{overflow-x:auto}
.tw-card{background:var(--tw-card);border:1px solid var(--tw-rule);border-radius:6px;padding:22px 26px 26px;margin:0 0 24px}
.tw-card>header{display:flex;flex-wrap:wrap;gap:6px 16px;align-items:center;justify-content:space-between}
.tw-card header p{flex-basis:100%;margin:0;color:var(--tw-soft)}
.tw-demand{border:2px dashed var(--tw-ink);border-radius:4px;padding:.6em .9em;margin:1em 0 0}
.tw-contradictions{list-style:none;margin:0;padding:0;display:grid;gap:10px}
.tw-contradictions li{border:1px solid var(--tw-rule);border-radius:4px;padding:.6em .9em}
.tw-contradictions p{margin:.25em 0 0}
.tw-contradictions .tw-danger{border:4px double var(--tw-fail);background:var(--tw-card)}
.tw-danger p{font-weight:600}
.tw-danger .tw-sign-word{color:var(--tw-card);background:var(--tw-fail);padding:.1em .6em;border-radius:3px;letter-spacing:.03em;-webkit-print-color-adjust:exact;print-color-adjust:exact}
.tw-reasons{margin:.9em 0 0;padding:0 0 0 1.1em}
.tw-reasons li{margin:.15em 0}
.tw-lead-reason{font-weight:600}
figure{margin:0 0 6px}
figcaption{color:var(--tw-soft);font-size:.88em;margin-top:.3em}
.tw-wide{min-width:600px}
dl{display:grid;grid-template-columns:max-content minmax(0,1fr);gap:.25em 1.4em;margin:0}
dt{color:var(--tw-soft)}
dd{margin:0;overflow-wrap:anywhere}
.tw-code{font-family:var(--tw-mono);font-size:.86em}
.tw-none{color:var(--tw-soft);font-style:italic}
.tw-chain{display:flex;flex-wrap:wrap;gap:6px;list-style:none;padding:0;margin:0}
.tw-chain li{padding:.1em .6em;border-radius:3px;border:1.5px solid var(--tw-ink);font-size:.87em}
.tw-chain li.tw-gap-segment{border-style:dashed;border-color:var(--tw-soft);color:var(--tw-soft)}
.tw-cautions{border:2px solid var(--tw-ink);border-radius:6px;padding:6px 26px 18px;margin-top:36px}
.tw-cautions li{margin:.25em 0}
del{text-decoration:line-through 1.5px;color:var(--tw-soft)}ins{text-decoration:none;font-weight:600}
.tw-two{display:grid;grid-template-columns:1fr 1fr;gap:0 40px}
.tw-sign{border-bottom:1px solid var(--tw-ink);height:3.2em}
footer{color:var(--tw-soft);font-size:.85em;padding:28px 24px 40px}
@media (max-width:760px){.tw-scroll>table{min-width:680px}.tw-two{grid-template-columns:1fr}.tw-card{padding:18px 16px}.tw-main,header.tw-head,footer{padding-left:14px;padding-right:14px}}
@page{size:A4;margin:14mm 13mm 18mm}
@media print{
  body{font-size:9pt;line-height:1.4}
  h4{margin:1em 0 .3em}.tw-details{display:none}
  th,td{padding:.22em .8em .22em 0}
  .tw-plot{width:78%}.tw-line{max-width:480px}a{color:inherit;text-decoration:none}
  .tw-main,header.tw-head,footer{max-width:none;padding:0}
  .tw-card{border:0;border-top:2px solid #000;border-radius:0;padding:10px 0 0;break-before:page;margin:0}
  .tw-scroll{overflow:visible}.tw-wide{min-width:0}
  figure,tr,.tw-cautions,.tw-signatures,.tw-contradictions li{break-inside:avoid}
  h2,h3,h4{break-after:avoid}
}
`;

/** Everything that a report page needs; no other file. */
export const STYLE = `${TOKENS}${MARK_STYLE}${PLOT_STYLE}${PAGE_STYLE}${EVIDENCE_STYLE}${ZOOM_STYLE}`;
