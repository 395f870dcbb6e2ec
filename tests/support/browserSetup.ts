import { findChromium } from './browserBinary.ts'

/**
 * Runs once before the tests that need a browser: unpacking one takes longer than a test's hook has
 * on a busy machine, and a browser that is not there ends the run in one sentence.
 */
export default async function setup(): Promise<void> {
  await findChromium()
}
