import { ERROR, FLOAT_END, LOST, NEVER, NOT_AVAILABLE, type Status } from '../program/types.ts';

/**
 * The engine keeps a value and its status in one double: from 2^1020 on, which no value reaches, a number is a mark that there is
 * none, and says why.
 */
export const MARK = FLOAT_END;
export const MARK_NOT_AVAILABLE = 2 ** 1020;
export const MARK_ERROR = 2 ** 1021;
export const MARK_LOST = 2 ** 1022;
export const MARK_NEVER = 2 ** 1023;

/** The status a mark stands for. */
export function statusOfMark(mark: number): Exclude<Status, 0> {
  if (mark === MARK_NOT_AVAILABLE) return NOT_AVAILABLE;
  if (mark === MARK_ERROR) return ERROR;
  return mark === MARK_LOST ? LOST : NEVER;
}

/** The mark of a status other than valid. */
export function markOfStatus(status: Exclude<Status, 0>): number {
  switch (status) {
    case NOT_AVAILABLE:
      return MARK_NOT_AVAILABLE;
    case ERROR:
      return MARK_ERROR;
    case LOST:
      return MARK_LOST;
    case NEVER:
      return MARK_NEVER;
  }
}
