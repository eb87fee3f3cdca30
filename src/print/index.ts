/**
 * Paper and spreadsheets: what `report` has worked out, as PDF (ISO 32000) and as xlsx (ISO/IEC 29500).
 *
 * Proved by tests/rooms/print.
 */
export {};
