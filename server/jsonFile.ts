import { readFileSync } from 'node:fs'

/** JSON in files that a person names on the command line. */

/** @returns null for what is no JSON */
export function parsed(text: string): { readonly input: unknown } | null {
  try {
    return { input: JSON.parse(text) }
  } catch {
    return null
  }
}

/**
 * What a file holds, or what is wrong with it.
 * @param wanted what the file should be, as a sentence says it
 * @param kind what kind of JSON it should hold
 */
export function jsonIn(
  file: string,
  wanted: string,
  kind = '',
): { readonly input: unknown } | string {
  let text: string
  try {
    text = readFileSync(file, 'utf8')
  } catch {
    return `The file ${file} cannot be read. Use ${wanted}.`
  }
  return parsed(text) ?? `The file ${file} holds no JSON${kind}. Use ${wanted}.`
}

/** The list that a file holds, or what is wrong with it. */
export function listIn(file: string): readonly unknown[] | string {
  const wanted = 'a list of {atMin, type, data}'
  const read = jsonIn(file, wanted, ' list')
  if (typeof read === 'string') return read
  return Array.isArray(read.input)
    ? read.input
    : `The file ${file} holds no JSON list. Use ${wanted}.`
}
