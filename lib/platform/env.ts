import { z } from 'zod'

const schema = z.object({
  APP_DATABASE_URL: z.string().startsWith('postgres'),
  AUTH_DATABASE_URL: z.string().startsWith('postgres'),
  JOBS_DATABASE_URL: z.string().startsWith('postgres'),
  AUTH_SECRET: z.string().min(32),
  LINK_KEY: z.string().min(32),
  PUBLIC_ADDRESS: z.url(),
  SMTP_URL: z.string().optional(),
  MAIL_FROM: z.string().default('Oothecary <oothecary@localhost>'),
  AIR_FORECAST_FILE: z.string().optional(),
  LOG_LEVEL: z.string().default('info'),
  APP_POOL_SIZE: z.coerce.number().int().positive().default(12),
})

export type Env = z.infer<typeof schema>

let checked: Env | undefined

/**
 * The settings of this process. Checked when first asked for, never on import, because a build has none.
 * @throws when one is missing or wrong, naming each
 */
export function env(): Env {
  checked ??= parseEnv(process.env)
  return checked
}

function parseEnv(source: NodeJS.ProcessEnv): Env {
  const parsed = schema.safeParse({
    ...source,
    SMTP_URL: source.SMTP_URL || undefined,
    AIR_FORECAST_FILE: source.AIR_FORECAST_FILE || undefined,
  })
  if (parsed.success) return parsed.data
  const wrong = parsed.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`)
  throw new Error(`The settings are incomplete:\n  ${wrong.join('\n  ')}`)
}

/** Whether the service is reached over https, so that cookies may be bound to the host and HSTS sent. */
export function isSecure(): boolean {
  return env().PUBLIC_ADDRESS.startsWith('https:')
}

/** Whether this is the framework's development server, which needs eval where the built service has none. */
export function isDevelopment(): boolean {
  return process.env.NODE_ENV === 'development'
}

/** Where the framework has put what it built. */
export function buildFolder(): string {
  return process.env.DIST_DIR || '.next'
}
