import type { NextConfig } from 'next'
import { commonHeaders, NO_PAGE_POLICY, SAFE_CONNECTION_HEADER, UNKEPT_HEADER } from './app/response-headers'

/** What the proxy does not see. */
const NO_PAGES = ['/api/:path*', '/intake/upload/:path*', '/photographs/:path*', '/_next/:path*']

const config: NextConfig = {
  reactStrictMode: true,
  poweredByHeader: false,
  serverExternalPackages: [
    '@react-pdf/renderer',
    'pg',
    '@prisma/client',
    '@prisma/adapter-pg',
    'better-auth',
    'nodemailer',
  ],
  typescript: { ignoreBuildErrors: true }, // `npm test` and `npm run typecheck` check the types of everything, once
  experimental: {
    preloadEntriesOnStart: false, // whoever waits for the start waits for their first page alone
    authInterrupts: true, // who lacks the role gets a page that says so, with status 403
    serverActions: { bodySizeLimit: '8mb' }, // a library file of which an engine is taken in
  },
  headers: async () => [
    ...NO_PAGES.map((source) => ({ source, headers: commonHeaders(NO_PAGE_POLICY) })),
    ...NO_PAGES.map((source) => ({
      source,
      has: [{ type: 'header' as const, key: 'x-forwarded-proto', value: 'https' }],
      headers: [SAFE_CONNECTION_HEADER],
    })),
    { source: '/api/:path*', headers: [UNKEPT_HEADER] },
  ],
}

export default config
