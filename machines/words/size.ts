const MIB = 1024 * 1024

/** How much a file or a body holds, in every language: whole MiB where it is that, else MB. */
export const size = (bytes: number): string =>
  bytes % MIB === 0 ? `${bytes / MIB} MiB` : `${Math.round(bytes / 1e6)} MB`
