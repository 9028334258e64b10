import {
  createHash,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  sign,
  verify,
} from "node:crypto";

/** A pair of keys as PEM, as any general tool reads and makes them (RFC 8410). */
export interface KeyPair {
  readonly privateKey: string;
  readonly publicKey: string;
}

/** Makes a pair of keys for Ed25519. */
export function newKeyPair(): KeyPair {
  const { privateKey, publicKey } = generateKeyPairSync("ed25519");
  return {
    privateKey: privateKey.export({ type: "pkcs8", format: "pem" }) as string,
    publicKey: publicKey.export({ type: "spki", format: "pem" }) as string,
  };
}

/**
 * The signature of a message by Ed25519 (RFC 8032).
 *
 * @param privateKey - PEM
 * @returns 64 bytes
 * @throws RangeError when it is not a private key for Ed25519
 */
export function signatureOf(message: Uint8Array, privateKey: string): Uint8Array {
  return sign(null, message, readPrivateKey(privateKey));
}

/**
 * Whether a signature is that of a message by the private key that belongs to a public key.
 *
 * @param publicKey - PEM
 * @throws RangeError when it is not a public key for Ed25519
 */
export function isSignatureOf(message: Uint8Array, signature: Uint8Array, publicKey: string): boolean {
  return verify(null, message, readPublicKey(publicKey), signature);
}

/** SHA-256 of the public key that belongs to a private or a public key, to tell keys apart. */
export function fingerprintOf(key: { readonly privateKey: string } | { readonly publicKey: string }): string {
  const own =
    "privateKey" in key ? createPublicKey(readPrivateKey(key.privateKey)) : readPublicKey(key.publicKey);
  return createHash("sha256")
    .update(own.export({ type: "spki", format: "der" }))
    .digest("hex");
}

function readPrivateKey(pem: string): KeyObject {
  return ofEd25519("private", () => createPrivateKey(pem));
}

function readPublicKey(pem: string): KeyObject {
  // A private key would be taken too; one that was given away by mistake is to be noticed.
  if (/PRIVATE KEY/.test(pem))
    throw new RangeError("expected a public key, found a private key; keep it to yourself");
  return ofEd25519("public", () => createPublicKey(pem));
}

function ofEd25519(kind: "private" | "public", read: () => KeyObject): KeyObject {
  let key: KeyObject;
  try {
    key = read();
  } catch (error) {
    throw new RangeError(`expected a ${kind} key for Ed25519 as PEM, without a passphrase`, { cause: error });
  }
  if (key.asymmetricKeyType === "ed25519") return key;
  throw new RangeError(`expected a ${kind} key for Ed25519, found one for ${key.asymmetricKeyType}`);
}
