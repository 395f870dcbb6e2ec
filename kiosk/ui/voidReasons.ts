/** Why an entry is a mistake. */
export const VOID_REASONS = [
  'MISTAP',
  'LATE_ENTRY',
  'WRONG_CUP',
  'WRONG_PART',
  'SENSOR_FAULT',
  'UNIT_ERROR',
  'DUPLICATE',
  'OTHER',
] as const
