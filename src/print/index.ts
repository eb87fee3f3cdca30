/**
 * Paper and spreadsheets: what `report` has worked out, as PDF 1.7 (ISO 32000-1) with tags (14.8) and vectors only, on A4
 * (ISO 216) or Letter, and as xlsx (ISO/IEC 29500).
 *
 * Proved by tests/rooms/print, which reads the files back with other programs.
 */
export { type MatrixProved, matrixXlsx, readMatrixXlsx } from './matrix-xlsx.ts';
export { PAPERS, type Paper } from './paper.ts';
export { type ReportPaper, reportPdf } from './report-pdf.ts';
export { type Sheet, type SheetPaper, sheetPdf } from './sheet-pdf.ts';
