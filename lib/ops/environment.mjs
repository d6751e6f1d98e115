// What the web server, the jobs and the commands are told. lib/platform/env.ts checks it when they start.
import process from 'node:process'
import { roleUrls } from './database/connection.mjs'

const forEveryone = ({ settings, secrets, address, dataFolder, isDev }) => ({
  AUTH_SECRET: secrets.authSecret,
  NEXTAUTH_SECRET: secrets.authSecret,
  NEXT_SERVER_ACTIONS_ENCRYPTION_KEY: secrets.actionKey,
  LINK_KEY: secrets.linkKey,
  PUBLIC_ADDRESS: address,
  NEXTAUTH_URL: address,
  HOST: settings.host,
  HAS_PROXY: settings.publicAddress ? 'yes' : '',
  PORT: String(settings.port),
  DATA_DIR: dataFolder,
  SMTP_URL: process.env.SMTP_URL ?? '',
  MAIL_FROM: process.env.MAIL_FROM || 'Oothecary <no-reply@localhost>',
  NODE_ENV: isDev ? 'development' : 'production',
  NEXT_TELEMETRY_DISABLED: '1',
  TZ: 'UTC',
})

/** The server never learns the owner's address: empty, because a .env file would otherwise fill it in again. */
export function serverEnvironment(instance) {
  const urls = roleUrls(instance.adminUrl, instance.secrets.passwords)
  return {
    ...process.env,
    ...forEveryone(instance),
    APP_DATABASE_URL: urls.app,
    AUTH_DATABASE_URL: urls.auth,
    JOBS_DATABASE_URL: urls.jobs,
    DATABASE_URL: '',
    BACKUP_DATABASE_URL: '',
  }
}

export function commandEnvironment(instance) {
  const urls = roleUrls(instance.adminUrl, instance.secrets.passwords)
  return { ...serverEnvironment(instance), DATABASE_URL: instance.adminUrl, BACKUP_DATABASE_URL: urls.backup }
}
