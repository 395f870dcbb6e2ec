import { keptProgram } from './kept/program.ts'

/** The door: runs the program that is kept for these sources, or else the sources themselves. */
const kept = keptProgram()
const { run } = kept ?? (await import('./program.ts'))
// A command that is over at once never comes to it.
if (kept === null) (await import('./kept/later.ts')).keepLater()
// Not exit() at the end: it would cut off what a pipe has not taken yet.
process.exitCode = await run(process.argv.slice(2))
