import { MOST_PICTURE_BYTES } from '@ashwater/contracts';
import sharp from 'sharp';

// A small studio's machine: one picture at a time, and nothing of anybody's picture stays in memory.
sharp.cache(false);
sharp.concurrency(1);

export type CleanPicture = { bytes: Buffer; mediaType: 'image/jpeg'; widthPx: number; heightPx: number };
/** Of what is sent. */
export const MOST_BYTES = MOST_PICTURE_BYTES;
/** A phone's camera of today. */
export const MOST_PIXELS = 50_000_000;
export const LONGEST_SIDE_PX = 1600;
const QUALITY = 80;

/** Its message is for the person: what is wrong, and what to do. */
export class PictureRefused extends Error {}

/** How the three kinds begin (JPEG ITU-T T.81 B.1.1.3, PNG W3C 5.2, WebP RFC 9649 2.4). What a browser calls a file is no proof of what is in it. */
const BEGINS: [format: string, test: (bytes: Buffer) => boolean][] = [
  ['jpeg', (bytes) => bytes.subarray(0, 3).equals(Buffer.from([0xff, 0xd8, 0xff]))],
  ['png', (bytes) => bytes.subarray(0, 8).equals(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]))],
  ['webp', (bytes) => bytes.subarray(0, 4).toString('latin1') === 'RIFF' && bytes.subarray(8, 12).toString('latin1') === 'WEBP'],
];
/** Films and AVIF begin with ftyp as well: the camera's setting would not help there. */
const HEIC_BEGINS = /^ftyp(hei[cxms]|hev[cxms]|mif1|msf1)$/;
const NOT_A_PICTURE = 'This is not a JPEG, PNG or WebP picture. Take a photo, or send a screenshot of it.';
const HEIC = 'This is a HEIC picture, which cannot be read here. Set the camera to “most compatible”, or send a screenshot of it.';
const DAMAGED = 'This picture is damaged or did not arrive whole. Choose it again, or take another.';
const TOO_MANY = `This picture has more than ${MOST_PIXELS / 1e6} megapixels. Send a smaller one, or a screenshot of it.`;

function formatOf(bytes: Buffer): string {
  if (bytes.length > MOST_BYTES) throw new PictureRefused(`This picture is larger than ${MOST_BYTES / 1e6} MB. Send a smaller one, or a screenshot of it.`);
  const format = BEGINS.find(([, begins]) => begins(bytes))?.[0];
  if (format) return format;
  throw new PictureRefused(HEIC_BEGINS.test(bytes.subarray(4, 12).toString('latin1')) ? HEIC : NOT_A_PICTURE);
}

/**
 * A picture written anew from its pixels: upright, at most LONGEST_SIDE_PX long, on white, as JPEG. Place, camera, time, comments, colour profiles and
 * whatever hangs behind the picture are gone, because none of the file's own bytes are kept.
 * @throws PictureRefused for anything but a whole JPEG, PNG or WebP within the limits
 */
export async function cleanPicture(sent: Buffer): Promise<CleanPicture> {
  const format = formatOf(sent);
  const open = () => sharp(sent, { failOn: 'error', limitInputPixels: MOST_PIXELS, animated: false });
  try {
    const { format: found, width, height } = await open().metadata();
    if (found !== format) throw new PictureRefused(NOT_A_PICTURE);
    if (width * height > MOST_PIXELS) throw new PictureRefused(TOO_MANY);
    const { data, info } = await open()
      .autoOrient()
      .resize({ width: LONGEST_SIDE_PX, height: LONGEST_SIDE_PX, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: 'white' })
      .toColourspace('srgb')
      .jpeg({ quality: QUALITY })
      .toBuffer({ resolveWithObject: true });
    return { bytes: data, mediaType: 'image/jpeg', widthPx: info.width, heightPx: info.height };
  } catch (error) {
    if (error instanceof PictureRefused) throw error;
    throw new PictureRefused(/pixel limit/i.test((error as Error).message) ? TOO_MANY : DAMAGED);
  }
}
