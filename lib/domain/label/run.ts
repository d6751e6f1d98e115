/**
 * How many label numbers a run at the bench sets aside: more than planned, as there are always more nymphs than
 * thought and an undone cup uses its number up. What is not used is never given out again; codes are not in order
 * anyway.
 */
export function reservedNumbers(planned: number): number {
  return planned + Math.ceil(planned / 4) + 5
}

/** Whether a number belongs to a run that set aside from `first` on. */
export function isReserved(number: number, run: { first: number; planned: number }): boolean {
  return number >= run.first && number < run.first + reservedNumbers(run.planned)
}
