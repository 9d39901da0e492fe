/** The record of a review, from the walk and its answers. */
export { reviewRecord } from './review-record.ts';
