import type { FieldError } from '../../machines/accept.ts'

/** What is wrong with a field. The schemas' own sentences are English. */
export const en = ({ message }: FieldError): string => message
