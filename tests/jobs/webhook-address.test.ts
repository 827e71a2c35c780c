import { expect, test } from 'vitest'
import { isPublic, wrongWithAddress } from '@/lib/jobs/webhook-address'

const NOT_PUBLIC = [
  ...['127.0.0.1', '127.8.8.8', '10.0.0.1', '172.16.0.1', '192.168.1.1', '169.254.169.254', '0.0.0.0'],
  ...['100.64.0.1', '100.100.100.200', '192.0.0.192', '168.63.129.16', '224.0.0.1', '255.255.255.255'],
  ...['192.0.2.1', '198.18.0.1', '203.0.113.9', '240.0.0.1', '192.88.99.1'],
  ...['::1', '::', 'fe80::1', 'fc00::1', 'fd00:ec2::254', 'ff02::1', 'fec0::1', '100::1', '2001:db8::1'],
  ...[
    '::ffff:127.0.0.1',
    '::ffff:8.8.8.8.',
    '::127.0.0.1',
    '64:ff9b::7f00:1',
    '2002:7f00:1::',
    '2001:0:1::1',
  ],
  ...[
    '::ffff:169.254.169.254',
    '::ffff:168.63.129.16',
    '5f00::1',
    '3fff::1',
    'localhost',
    '',
    'fe80::1%eth0',
  ],
]

test.each(NOT_PUBLIC)('%s is no public address', (address) => expect(isPublic(address)).toBe(false))

test.each(['8.8.8.8', '93.184.215.14', '2606:4700::1111', '2001:4860:4860::8888', '::ffff:8.8.8.8'])(
  '%s is one',
  (address) => expect(isPublic(address)).toBe(true),
)

const strict = { anywhere: false }

test.each([
  'https://example.org/told?by=us',
  'https://example.org:8443/',
  'https://8.8.8.8/told',
  'https://[2606:4700::1111]/',
])('%s may be told', (address) => expect(wrongWithAddress(address, strict)).toBeNull())

test.each([
  ...['', 'example.org', 'ftp://example.org', 'javascript:alert(1)', 'file:///etc/passwd'],
  ...['http://example.org', 'https://u:p@example.org', `https://example.org/${'x'.repeat(3000)}`],
  ...['https://127.0.0.1', 'https://2130706433/', 'https://0x7f.1/', 'https://[::1]/', 'https://10.1.2.3/'],
  ...['https://[::ffff:10.0.0.1]/', 'https://169.254.169.254/latest/meta-data'],
])('%s may not, and it says why', (address) => expect(wrongWithAddress(address, strict)).toMatch(/\w/))

test('an installation may allow any, still no name and password, and no other scheme', () => {
  const anywhere = { anywhere: true }
  expect(wrongWithAddress('http://127.0.0.1:9000/x', anywhere)).toBeNull()
  expect(wrongWithAddress('http://u:p@127.0.0.1/', anywhere)).not.toBeNull()
  expect(wrongWithAddress('ftp://127.0.0.1/', anywhere)).not.toBeNull()
})
