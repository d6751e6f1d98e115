import type { MetadataRoute } from 'next'

export default function manifest(): MetadataRoute.Manifest {
  return {
    name: 'Oothecary',
    short_name: 'Oothecary',
    description: 'From egg case to handed-over animal.',
    start_url: '/',
    display: 'standalone',
    background_color: '#110e0a',
    theme_color: '#110e0a',
    icons: [{ src: '/icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' }],
  }
}
