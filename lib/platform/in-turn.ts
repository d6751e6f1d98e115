const last = new Map<string, Promise<unknown>>()

/**
 * One after another for each workspace. What is drawn by the one thread of a process then waits behind one drawing of
 * every other workspace, however many its neighbours have asked for.
 */
export async function inTurn<T>(whose: string, work: () => Promise<T>): Promise<T> {
  const before = last.get(whose) ?? Promise.resolve()
  const own = before.then(work, work)
  last.set(whose, own)
  try {
    return await own
  } finally {
    if (last.get(whose) === own) last.delete(whose)
  }
}
