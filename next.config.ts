import type { NextConfig } from 'next'
import { fixedHeaders, MACHINE_POLICY, STRICT_TRANSPORT } from './lib/platform/web-policy'

const config: NextConfig = {
  distDir: process.env.DIST_DIR ?? '.next',
  poweredByHeader: false,
  reactStrictMode: true,
  // Photos are re-encoded when they arrive and served by a route that knows the workspace: an optimiser
  // in between would keep copies that no one has the right to ask for.
  images: { unoptimized: true },
  // `npm run check` runs the compiler over the whole tree; a build need not do it twice.
  typescript: { ignoreBuildErrors: true },
  experimental: { authInterrupts: true },
  // Native code, wasm and drivers that must be loaded from node_modules as they are.
  serverExternalPackages: [
    '@myriaddreamin/typst-ts-node-compiler',
    '@node-rs/argon2',
    'graphile-worker',
    'nodemailer',
    'pg',
  ],
  // Everything that is computed per request gets its headers in proxy.ts; these reach the built files and the calls of
  // the JSON API, which do not pass through it.
  headers: async () => [
    { source: '/:path*', headers: [{ key: 'X-Content-Type-Options', value: 'nosniff' }] },
    {
      source: '/api/v1/:path((?!docs$).*)',
      headers: Object.entries({ ...fixedHeaders('/api/v1/'), 'Content-Security-Policy': MACHINE_POLICY }).map(
        ([key, value]) => ({ key, value }),
      ),
    },
    {
      source: '/api/v1/:path*',
      has: [{ type: 'header', key: 'x-forwarded-proto', value: 'https.*' }],
      headers: [{ key: STRICT_TRANSPORT.name, value: STRICT_TRANSPORT.value }],
    },
  ],
}

export default config
