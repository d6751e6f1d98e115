import pino from 'pino'

/** The service's log: JSON lines, without bodies, cookies, tokens or names of people. */
export const log = pino({
  level: 'info',
  base: null,
  redact: [
    'password',
    'token',
    'authorization',
    'cookie',
    '*.password',
    '*.token',
    '*.authorization',
    '*.cookie',
  ],
})
