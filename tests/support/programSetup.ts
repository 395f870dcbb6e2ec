import { keepProgram } from '../../server/kept/make.ts'

/** Runs once before the tests that start the program: each start is then a shop's second one. */
export default async function setup(): Promise<void> {
  await keepProgram()
}
