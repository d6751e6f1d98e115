/** Longer than this nobody else's request waits for long arithmetic. */
const PIECE_MS = 20

/** Runs long arithmetic piece by piece and lets other requests in between. */
export async function runInPieces<Result>(steps: Generator<undefined, Result, undefined>): Promise<Result> {
  let begun = performance.now()
  let step = steps.next()
  while (!step.done) {
    if (performance.now() - begun > PIECE_MS) {
      await new Promise((resolve) => setImmediate(resolve))
      begun = performance.now()
    }
    step = steps.next()
  }
  return step.value
}
