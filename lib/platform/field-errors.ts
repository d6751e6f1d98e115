import type { z } from 'zod'
import type { FieldError } from '@/lib/platform/errors'

/** A zod error as one message per field, with dotted paths as forms and the API name them. */
export function listFieldErrors(error: z.ZodError): FieldError[] {
  return error.issues.flatMap((issue) => {
    if (issue.code === 'unrecognized_keys')
      return issue.keys.map((key) => ({ path: [...issue.path, key].join('.'), message: 'is not known here' }))
    return [{ path: issue.path.join('.'), message: issue.message }]
  })
}
