/** C source of the interface modules, with the stamp and the mark every hand-over carries. */
export { firmwareArchive } from './archive.ts';
export { firmwareSources, type FirmwareExport, type FirmwareSources } from './firmware-sources.ts';
