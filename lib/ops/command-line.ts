import type { z } from 'zod'
import { Refusal } from '@/lib/ops/say.mjs'

/**
 * What was said on the command line, checked by the schema of the screen that does the same.
 * @throws Refusal with each wrong word and how the command is used
 */
export function readAnswers<S extends z.ZodType>(schema: S, said: unknown, usage: string): z.output<S> {
  const parsed = schema.safeParse(said)
  if (parsed.success) return parsed.data
  const wrong = parsed.error.issues.map((issue) => `  --${issue.path.join('.')}: ${issue.message}`)
  throw new Refusal(`${wrong.join('\n')}\n${usage}`)
}
