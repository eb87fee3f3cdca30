/** What the page of the matrix needs beside the style of all reports. */
export const MATRIX_STYLE = `
.tw-matrix-page main,.tw-matrix-page header.tw-head,.tw-matrix-page footer{max-width:1440px}
.tw-standing{display:inline-block;font-weight:700;white-space:nowrap;font-size:.8em;letter-spacing:.03em;color:var(--tw-ink)}
.tw-standing i{font-style:normal;font-size:1.2em;margin-right:.15em}
.tw-is-proved{color:var(--tw-pass)}
.tw-is-failed,.tw-is-bypassed,.tw-is-cross-trip{color:var(--tw-card);background:var(--tw-fail);padding:.1em .5em;border-radius:3px;-webkit-print-color-adjust:exact;print-color-adjust:exact}
.tw-is-inconclusive,.tw-is-stale,.tw-is-overdue{color:var(--tw-open)}
.tw-is-never{color:var(--tw-soft)}
.tw-matrix small,.tw-chain-table small{display:block;font-weight:400;color:var(--tw-soft);font-size:.78em;line-height:1.35}
.tw-matrix th,.tw-matrix td{padding:.45em .6em;border:1px solid var(--tw-rule)}
.tw-matrix thead th{vertical-align:bottom;border-bottom:1.5px solid var(--tw-ink)}
.tw-matrix tbody th{min-width:15em;max-width:22em}
.tw-matrix tbody th b{display:block}
.tw-effect{writing-mode:vertical-rl;transform:rotate(180deg);white-space:nowrap;color:var(--tw-ink)}
.tw-cell{min-width:2.2em}
.tw-marked{background:var(--tw-card);min-width:8em;box-shadow:inset 0 0 0 1px var(--tw-soft)}
.tw-quiet{display:block;text-align:center;color:var(--tw-soft)}
.tw-hidden{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
.tw-part-never b,.tw-part-stale b,.tw-part-old b{color:var(--tw-fail)}
.tw-part-never{border-left:3px dotted var(--tw-fail);padding-left:.5em}
.tw-part-stale,.tw-part-old{border-left:3px double var(--tw-fail);padding-left:.5em}
.tw-part-proved b{color:var(--tw-pass)}
.tw-no-part{color:var(--tw-soft)}
.tw-legend{grid-template-columns:max-content 1fr}
.tw-todo{margin-top:.4em}.tw-todo p{margin:0 0 .3em}
.tw-matrix-page h3{margin:1.6em 0 .4em}
@media print{.tw-matrix-page{font-size:8pt}@page{size:A4 landscape}}
`;
