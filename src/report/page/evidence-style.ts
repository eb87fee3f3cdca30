/** The place where a page says what it found of itself, and what stands at the foot of each printed page. */
export const EVIDENCE_STYLE = `
.tw-check{width:calc(100% - 48px);max-width:992px;margin:20px auto 0;padding:.7em 1em;border:2px dotted var(--tw-none);border-radius:6px;background:var(--tw-card)}
.tw-check p{margin:.2em 0}
.tw-check-mark{letter-spacing:.03em;margin-right:.5em}
.tw-check-list{list-style:none;margin:.5em 0 .2em;padding:0;font-size:.92em}
.tw-check-list:empty{display:none}
.tw-check-list li{overflow-wrap:anywhere;padding-left:1.5em;text-indent:-1.5em}
.tw-check-bad{font-weight:700}
.tw-check summary{cursor:pointer;color:var(--tw-soft);font-size:.92em;margin-top:.3em}
[data-check=verified] .tw-check{border:2px solid var(--tw-pass)}
[data-check=verified] .tw-check-mark{color:var(--tw-pass)}
[data-check=partly] .tw-check{border:2px dashed var(--tw-open)}
[data-check=partly] .tw-check-mark{color:var(--tw-open)}
[data-check=refused] .tw-check{border:6px double var(--tw-fail)}
[data-check=refused] .tw-check-mark,[data-check=refused] .tw-check-bad{color:var(--tw-fail)}
.tw-foot{max-width:1040px;margin:0 auto;padding:0 24px 28px;color:var(--tw-soft);font-size:.85em;display:flex;flex-wrap:wrap;gap:.2em 1.4em}
.tw-foot b{font-family:var(--tw-mono);color:var(--tw-ink);white-space:nowrap}
.tw-absent{border-left:4px solid var(--tw-fail);padding:.3em 0 .3em .8em}
del{color:var(--tw-soft)}ins{text-decoration:none;font-weight:600}
@media (max-width:760px){.tw-check{width:calc(100% - 28px)}.tw-foot{padding-left:14px;padding-right:14px}}
@media print{
  .tw-check{width:auto;max-width:none;margin:0 0 6mm;font-size:8.5pt}
  .tw-check details{display:none}
  [data-check=verified] .tw-check,.tw-check{display:none}
  [data-check=refused] .tw-check{display:block}
  .tw-foot{max-width:none;padding:2mm 0 0;border-top:.5pt solid #000;color:#000;font-size:7.5pt}
}
`;

/** Tools of a drawing that can be zoomed; they are there only where the script runs. */
export const ZOOM_STYLE = `
.tw-zoom{display:flex;flex-wrap:wrap;align-items:center;gap:6px;margin:.3em 0 0;font-size:.85em;color:var(--tw-soft)}
.tw-zoom button{font:inherit;min-width:2.4em;min-height:2.2em;padding:.1em .6em;color:var(--tw-ink);background:var(--tw-card);
  border:1px solid var(--tw-soft);border-radius:4px;cursor:pointer}
.tw-zoom button:disabled{opacity:.4;cursor:default}
.tw-zoom output{margin-left:.4em}
.tw-plot:focus-visible,.tw-zoom button:focus-visible{outline:3px solid var(--tw-signal);outline-offset:2px}
.tw-zoomable{cursor:zoom-in;touch-action:pan-y}
.tw-zoomed{cursor:grab;touch-action:none}
.tw-zoomed:active{cursor:grabbing}
.tw-inner *{vector-effect:non-scaling-stroke}
@media print{.tw-zoom{display:none}.tw-plot:focus-visible{outline:none}}
`;

/** What can stand in a CSS string without being read as anything else. */
const plain = (text: string): string => text.replace(/[^\w .,:/-]/g, '·');

/**
 * At the foot of each page of paper (CSS Paged Media 3, 4.2): what it is, the fingerprints, the number of the page. A browser
 * that does not know boxes in the margin prints the foot once, at the end.
 */
export const printFoot = (what: string, middle: string): string => `
@page{
  @bottom-left{content:"${plain(what)}";font:7pt sans-serif;color:#000;vertical-align:top;padding-top:2mm}
  @bottom-center{content:"${plain(middle)}";font:7pt monospace;color:#000;vertical-align:top;padding-top:2mm;white-space:nowrap}
  @bottom-right{content:counter(page) " / " counter(pages);font:7pt sans-serif;color:#000;vertical-align:top;padding-top:2mm}
}
`;
