import { headers } from 'next/headers'

/**
 * Where people outside reach the product, without a slash at the end: as the environment says (the start has made sure
 * that it is an address), else as this request came.
 */
export async function publicAddress(): Promise<string> {
  const stated = process.env.PUBLIC_ADDRESS?.trim()
  if (stated) return stated.replace(/\/+$/, '')
  const asked = await headers()
  const host = asked.get('x-forwarded-host') ?? asked.get('host') ?? 'localhost'
  return `${asked.get('x-forwarded-proto') ?? 'http'}://${host}`
}
