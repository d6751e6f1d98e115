import type { NextConfig } from 'next'

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
  // Everything that is computed per request gets its headers in proxy.ts; this reaches the built files too.
  headers: async () => [
    { source: '/:path*', headers: [{ key: 'X-Content-Type-Options', value: 'nosniff' }] },
  ],
}

export default config
