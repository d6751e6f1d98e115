import type { z } from 'zod'

/** Singular for one, and no plural rule needed for units, which are never more than these. */
function counted(size: number | bigint, origin: string): string {
  if (origin === 'string') return `${size} ${Number(size) === 1 ? 'letter' : 'letters'}`
  return `${size} ${Number(size) === 1 ? 'entry' : 'entries'}`
}

function sayTooBig(issue: z.core.$ZodRawIssue<z.core.$ZodIssueTooBig>): string {
  if (issue.origin === 'string' || issue.origin === 'array') {
    return `At most ${counted(issue.maximum, issue.origin)}.`
  }
  return issue.inclusive === false ? `Less than ${issue.maximum}, please.` : `${issue.maximum} at most.`
}

function sayTooSmall(issue: z.core.$ZodRawIssue<z.core.$ZodIssueTooSmall>): string {
  if (issue.origin === 'string' || issue.origin === 'array') {
    return Number(issue.minimum) === 1 ? 'Fill this in.' : `At least ${counted(issue.minimum, issue.origin)}.`
  }
  return issue.inclusive === false ? `More than ${issue.minimum}, please.` : `${issue.minimum} at least.`
}

function sayWrongFormat(format: string): string {
  if (format === 'email') return 'This is not a mail address.'
  if (format === 'date') return 'Enter a day that exists, as year-month-day.'
  if (format === 'url') return 'This is not an address of a page.'
  return 'This does not have the form that is needed here.'
}

/**
 * The sentence a person reads under a field when a schema gives none of its own. Given to zod as `error`, on
 * the screen and in actions alike, so that both say the same.
 */
export function sayIssue(issue: z.core.$ZodRawIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      if (issue.input === undefined || issue.input === null) return 'Fill this in.'
      if (issue.expected === 'int') return 'Enter a whole number.'
      if (issue.expected === 'number' || issue.expected === 'nan') {
        // A figure that was left empty reaches a coercing schema as NaN.
        return Number.isNaN(issue.input) ? 'Enter a number.' : 'This is not a number.'
      }
      return 'This is not what is expected here.'
    case 'too_big':
      return sayTooBig(issue)
    case 'too_small':
      return sayTooSmall(issue)
    case 'invalid_format':
      return sayWrongFormat(issue.format)
    case 'not_multiple_of':
      return `In steps of ${issue.divisor}.`
    case 'invalid_value':
    case 'invalid_union':
      return issue.input === undefined || issue.input === null
        ? 'Choose one.'
        : 'Choose one of what is offered.'
    case 'unrecognized_keys':
      return `Not known here: ${issue.keys.join(', ')}.`
    default:
      return 'This value cannot be right.'
  }
}
