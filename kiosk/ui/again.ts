/** The file that could not be loaded, as Chromium and Firefox name it. */
const FILE = /https?:\/\/\S+\.js/

let times = 0

/**
 * Loads a part of the program that is fetched when it is first wanted. A browser remembers that a file could not
 * be loaded, and would say so of it for as long as the page is open; under another address it asks the server again.
 * @param load an import() of the file
 * @throws what the browser says where it cannot be had now; whoever wants it later asks again
 */
export async function again<M>(load: () => Promise<M>): Promise<M> {
  try {
    return await load()
  } catch (fault) {
    const file = FILE.exec(String(fault))?.[0]
    if (file === undefined) throw fault
    times += 1
    return await import(`${file}?again=${times}`)
  }
}

/**
 * Loads when it is first wanted, and once for all who want it; where that failed, whoever wants it next asks again.
 * @param load rejects where it cannot be had now
 */
export function whenWanted<T>(load: () => Promise<T>): () => Promise<T> {
  let asked: Promise<T> | null = null
  return () => {
    asked ??= load().catch((fault) => {
      asked = null
      throw fault
    })
    return asked
  }
}
