import type { Command } from 'commander';
import type { Terminal } from '../terminal.ts';
import { addCheck } from './check.ts';
import { addCompare } from './compare.ts';
import { addConvert } from './convert.ts';
import { addDecode } from './decode.ts';
import { addExplain } from './explain.ts';
import { addExport } from './export.ts';
import { addExportDbc } from './export-dbc.ts';
import { addFirmware } from './firmware.ts';
import { addImpact } from './impact.ts';
import { addImportDbc } from './import-dbc.ts';
import { addMerge } from './merge.ts';
import { addNeeds } from './needs.ts';
import { addNew } from './new.ts';
import { addPropose } from './propose.ts';
import { addReplay } from './replay.ts';
import { addReview } from './review.ts';
import { addServe } from './serve.ts';
import { addVariants } from './variants.ts';
import { addVectors } from './vectors.ts';
import { addVerifyCapture } from './verify-capture.ts';

/** Every command, in the order of the help: the order of the work. */
export const commands: readonly ((program: Command, terminal: Terminal) => void)[] = [
  addNew,
  addImportDbc,
  addNeeds,
  addPropose,
  addCheck,
  addExplain,
  addCompare,
  addReview,
  addVariants,
  addImpact,
  addMerge,
  addExport,
  addExportDbc,
  addFirmware,
  addVectors,
  addVerifyCapture,
  addDecode,
  addReplay,
  addConvert,
  addServe,
];
