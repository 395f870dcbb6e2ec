/**
 * What a stored mix wants before it is used on a later day than it was mixed: it has settled, may have
 * skinned, and its color may have moved.
 */
export const STORED_CHECKS = ['stirred', 'strained', 'cardSprayed'] as const
export type StoredCheck = (typeof STORED_CHECKS)[number]
