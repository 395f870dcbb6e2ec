/**
 * What a key names behind its bell: of a prompt the command of the pass that it belongs to, of every other bell
 * the thing that it is about.
 */
export const namedIn = (key: string): string => key.split(':')[1] ?? ''
