import { permute } from './scramble'

/**
 * Codes on labels. An individual is `K7Q 97` (stored `K7Q97`): letter, digit, letter, then two to four
 * digits, without I, O, 0 and 1. A clutch is `C-31`, an egg case `E-12`, counted up. The three never look
 * alike: no individual starts with C or E, and only individuals have a letter in third place.
 *
 * Since each place of an individual's code is either a letter or a digit, a reader who takes 8 for B,
 * 5 for S, 2 for Z or 6 for G is understood; so is O for 0 or I for 1 in a number.
 *
 * Capacity: 270,336 codes of five places, then 2,162,688 of six and 17,301,504 of seven.
 */
export type CodeKind = 'individual' | 'clutch' | 'egg-case' | 'tray'

export type ParsedCode =
  | { status: 'ok'; kind: CodeKind; code: string }
  | { status: 'unreadable'; reason: 'empty' | 'too-long' | 'no-such-shape' | 'letter-not-used' }

const LETTERS = 'ABCDEFGHJKLMNPQRSTUVWXYZ'
const FIRST_LETTERS = 'ABDFGHJKLMNPQRSTUVWXYZ'
const DIGITS = '23456789'
const TAIL_LENGTHS = [2, 3, 4]
const READ_AS_LETTER: Readonly<Record<string, string>> = { '8': 'B', '5': 'S', '2': 'Z', '6': 'G' }
const READ_AS_DIGIT: Readonly<Record<string, string>> = { B: '8', S: '5', Z: '2', G: '6' }
const NUMBERED = /^(CT|C|E)([0-9IOL]{1,8})$/

/** The stored code of the n-th animal (n ≥ 1) of a workspace; unique per key, not in order. O(1). */
export function individualCode(sequenceNumber: number, workspaceKey: string): string {
  if (!Number.isInteger(sequenceNumber) || sequenceNumber < 1) {
    throw new RangeError(`no such place in the sequence: ${sequenceNumber}`)
  }
  let rest = sequenceNumber - 1
  for (const tailLength of TAIL_LENGTHS) {
    const size = codesWithTail(tailLength)
    if (rest < size) return spell(permute(rest, size, workspaceKey), tailLength)
    rest -= size
  }
  throw new RangeError(`label codes are used up at ${sequenceNumber}`)
}

/** The codes of a reserved run: `count` animals from the given place in the sequence. O(count). */
export function individualCodes(run: { first: number; count: number }, workspaceKey: string): string[] {
  return Array.from({ length: run.count }, (_, index) => individualCode(run.first + index, workspaceKey))
}

export function clutchCode(sequenceNumber: number): string {
  return `C-${requireNumber(sequenceNumber)}`
}

export function eggCaseCode(sequenceNumber: number): string {
  return `E-${requireNumber(sequenceNumber)}`
}

/** Cups of one clutch that are kept as one. */
export function trayCode(sequenceNumber: number): string {
  return `CT-${requireNumber(sequenceNumber)}`
}

/** A jar of live food. It is written on the jar and never scanned among animals, so it is not read back. */
export function cultureCode(sequenceNumber: number): string {
  return `J-${requireNumber(sequenceNumber)}`
}

/** As printed on a label: a stored individual code gets its space, the others are written as stored. */
export function formatCode(code: string): string {
  return isIndividualCode(code) ? `${code.slice(0, 3)} ${code.slice(3)}` : code
}

/** Reads what somebody typed or scanned: any case, spaces, dashes and dots, the usual misreadings. */
export function parseCode(text: string): ParsedCode {
  const squeezed = text.toUpperCase().replace(/[\s\-–—_.·/]/g, '')
  if (squeezed === '') return { status: 'unreadable', reason: 'empty' }
  if (squeezed.length > 10) return { status: 'unreadable', reason: 'too-long' }
  const numbered = NUMBERED.exec(squeezed)
  if (numbered) return readNumbered(numbered[1] ?? '', numbered[2] ?? '')
  if (!/^.{5,7}$/.test(squeezed)) return { status: 'unreadable', reason: 'no-such-shape' }
  const code = [...squeezed].map((mark, place) => readMark(mark, place)).join('')
  if (isIndividualCode(code)) return { status: 'ok', kind: 'individual', code }
  const hasUnusedMark = /[IO01]/.test(squeezed)
  return { status: 'unreadable', reason: hasUnusedMark ? 'letter-not-used' : 'no-such-shape' }
}

/** Is this the stored form of an individual's code? */
export function isIndividualCode(code: string): boolean {
  if (code.length < 5 || code.length > 7) return false
  return [...code].every((mark, place) => marksAt(place).includes(mark))
}

function readNumbered(letters: string, written: string): ParsedCode {
  const number = Number(written.replace(/[IL]/g, '1').replace(/O/g, '0'))
  if (number < 1) return { status: 'unreadable', reason: 'no-such-shape' }
  if (letters === 'CT') return { status: 'ok', kind: 'tray', code: trayCode(number) }
  return letters === 'C'
    ? { status: 'ok', kind: 'clutch', code: clutchCode(number) }
    : { status: 'ok', kind: 'egg-case', code: eggCaseCode(number) }
}

function marksAt(place: number): string {
  if (place === 0) return FIRST_LETTERS
  return place === 2 ? LETTERS : DIGITS
}

function readMark(mark: string, place: number): string {
  if (marksAt(place).includes(mark)) return mark
  const readings = place === 0 || place === 2 ? READ_AS_LETTER : READ_AS_DIGIT
  return readings[mark] ?? mark
}

function codesWithTail(tailLength: number): number {
  return FIRST_LETTERS.length * DIGITS.length * LETTERS.length * DIGITS.length ** tailLength
}

function spell(value: number, tailLength: number): string {
  let rest = value
  let code = ''
  for (let place = tailLength + 2; place >= 0; place -= 1) {
    const marks = marksAt(place)
    code = marks.charAt(rest % marks.length) + code
    rest = Math.floor(rest / marks.length)
  }
  return code
}

function requireNumber(sequenceNumber: number): number {
  if (!Number.isInteger(sequenceNumber) || sequenceNumber < 1) {
    throw new RangeError(`no such place in the sequence: ${sequenceNumber}`)
  }
  return sequenceNumber
}
