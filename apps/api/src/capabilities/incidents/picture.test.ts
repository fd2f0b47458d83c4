import { crc32 } from 'node:zlib';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { cleanPicture, LONGEST_SIDE_PX, MOST_BYTES, PictureRefused } from './picture.ts';

const plain = (width: number, height: number, background = '#369') => sharp({ create: { width, height, channels: 3, background } });
const jpeg = (width = 40, height = 20) => plain(width, height).jpeg().toBuffer();
const refusalOf = async (bytes: Buffer): Promise<string> => {
  const error = await cleanPicture(bytes).then(
    () => null,
    (thrown: unknown) => thrown,
  );
  expect(error).toBeInstanceOf(PictureRefused);
  return (error as Error).message;
};

test('place, camera and owner in the picture’s data are gone', async () => {
  const exif = { IFD0: { Copyright: 'secret owner', Model: 'secret camera' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' } };
  const sent = await plain(40, 20).withExif(exif).withXmp('<x:xmpmeta xmlns:x="adobe:ns:meta/"><secret/></x:xmpmeta>').jpeg().toBuffer();
  const before = await sharp(sent).metadata();
  expect([before.exif !== undefined, sent.includes('secret owner'), sent.includes('xmpmeta')], 'it was there').toEqual([true, true, true]);
  const { bytes } = await cleanPicture(sent);
  const { exif: left, xmp, iptc, icc } = await sharp(bytes).metadata();
  expect([left, xmp, iptc, icc]).toEqual([undefined, undefined, undefined, undefined]);
  for (const word of ['secret', 'GPS', 'Exif', 'xmpmeta']) expect(bytes.includes(word), word).toBe(false);
});

test('a picture that lies on its side is turned upright, and says so nowhere', async () => {
  const sent = await plain(40, 20).withMetadata({ orientation: 6 }).jpeg().toBuffer();
  const clean = await cleanPicture(sent);
  expect([clean.widthPx, clean.heightPx, (await sharp(clean.bytes).metadata()).orientation]).toEqual([20, 40, undefined]);
});

const SCRIPT = '<script>alert(1)</script>';
const comment = (text: string) => Buffer.concat([Buffer.from([0xff, 0xfe, 0, text.length + 2]), Buffer.from(text)]);
test.each([
  ['a page and an archive behind it', async () => Buffer.concat([await jpeg(), Buffer.from(`${SCRIPT}PK\u0003\u0004archive`, 'latin1')])],
  ['a script in a comment', async () => jpeg().then((bytes) => Buffer.concat([bytes.subarray(0, 2), comment(SCRIPT), bytes.subarray(2)]))],
])('a JPEG with %s comes out as its pixels alone', async (_, make) => {
  const sent = await make();
  expect(sent.includes('<script>')).toBe(true);
  const { bytes } = await cleanPicture(sent);
  expect([bytes.includes('<script>'), bytes.includes('archive'), bytes.subarray(0, 2).toString('hex'), bytes.subarray(-2).toString('hex')]).toEqual([
    false,
    false,
    'ffd8',
    'ffd9',
  ]);
});

const SVG = `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">${SCRIPT}</svg>`;
const PNG_HEAD = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
test.each([
  ['a drawing with a script in it', () => Buffer.from(SVG), /not a JPEG, PNG or WebP/],
  ['a drawing behind the first bytes of a PNG', () => Buffer.concat([PNG_HEAD, Buffer.from(SVG)]), /damaged/],
  ['a page behind the first bytes of a JPEG', () => Buffer.concat([Buffer.from([0xff, 0xd8, 0xff]), Buffer.from(SCRIPT)]), /damaged/],
  ['a GIF', () => plain(9, 9).gif().toBuffer(), /not a JPEG, PNG or WebP/],
  ['nothing', () => Buffer.alloc(0), /not a JPEG, PNG or WebP/],
  ['a HEIC picture', () => Buffer.from('\u0000\u0000\u0000\u0018ftypheic', 'latin1'), /most compatible/],
  ['a film, which begins much like a HEIC picture', () => Buffer.from('\u0000\u0000\u0000\u0018ftypisom', 'latin1'), /not a JPEG, PNG or WebP/],
  ['a PDF', () => Buffer.from('%PDF-1.7'), /not a JPEG, PNG or WebP/],
  ['half of a picture', async () => (await plain(400, 400).jpeg().toBuffer()).subarray(0, 400), /damaged/],
  ['more bytes than are taken', () => Buffer.alloc(MOST_BYTES + 1, 0xff), /larger than 12 MB/],
])('%s is refused in words', async (_, make, words) => {
  expect(await refusalOf(await make())).toMatch(words);
});

// A chunk of a PNG: length, name, content, CRC (W3C PNG, 5.3).
const chunk = (name: string, content: Buffer) => {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), content]);
  const ends = Buffer.alloc(8);
  ends.writeUInt32BE(content.length, 0);
  ends.writeUInt32BE(crc32(body), 4);
  return Buffer.concat([ends.subarray(0, 4), body, ends.subarray(4)]);
};
test('a small file that says it is 50,000 by 50,000 pixels is refused before it is unfolded', async () => {
  const size = Buffer.alloc(13);
  size.writeUInt32BE(50_000, 0);
  size.writeUInt32BE(50_000, 4);
  size.set([8, 2, 0, 0, 0], 8);
  const sent = Buffer.concat([PNG_HEAD, chunk('IHDR', size), chunk('IDAT', Buffer.alloc(20)), chunk('IEND', Buffer.alloc(0))]);
  const began = performance.now();
  expect(await refusalOf(sent)).toMatch(/50 megapixels/);
  expect(performance.now() - began).toBeLessThan(1000);
});

test('a large picture is made smaller, a small one is not made larger', async () => {
  const large = await cleanPicture(await jpeg(4000, 3000));
  expect([large.widthPx, large.heightPx]).toEqual([LONGEST_SIDE_PX, 1200]);
  const small = await cleanPicture(await plain(30, 10).webp().toBuffer());
  expect([small.widthPx, small.heightPx, (await sharp(small.bytes).metadata()).format]).toEqual([30, 10, 'jpeg']);
});

test('what is transparent comes out white', async () => {
  const sent = await sharp({ create: { width: 8, height: 8, channels: 4, background: { r: 0, g: 0, b: 0, alpha: 0 } } })
    .png()
    .toBuffer();
  const { data } = await sharp((await cleanPicture(sent)).bytes)
    .raw()
    .toBuffer({ resolveWithObject: true });
  expect(Math.min(...data)).toBeGreaterThan(250);
});

test('of a moving WebP the first picture is kept, alone', async () => {
  const frames = Buffer.concat([Buffer.alloc(40 * 40 * 3, 0xff), Buffer.alloc(40 * 40 * 3, 0)]);
  const sent = await sharp(frames, { raw: { width: 40, height: 80, channels: 3, pageHeight: 40 } })
    .webp({ delay: [100, 100] })
    .toBuffer();
  expect((await sharp(sent).metadata()).pages).toBe(2);
  const { bytes, widthPx, heightPx } = await cleanPicture(sent);
  expect([widthPx, heightPx]).toEqual([40, 40]);
  expect(Math.min(...(await sharp(bytes).raw().toBuffer()))).toBeGreaterThan(250);
});
