/**
 * The verification log without a file: entries as canonical text (RFC 8785), leaves of a Merkle tree (RFC 9162, 2.1),
 * answers as blocks of bytes, and the check that all of it is what was written.
 *
 * Proved by tests/rooms/record against the published vectors of both RFCs.
 */

export { bodySchemas } from './bodies.ts';
export { fromBase64, toBase64 } from './bundle/base64.ts';
export { type Bundle, bundleText, makeBundle } from './bundle/bundle.ts';
export { bundleSource } from './bundle/read.ts';
export { type VerifiedBundle, verifyBundle } from './bundle/verify.ts';
export type { BundledWindow } from './bundle/windows.ts';
export { canonicalText, entryText, type Parsed, parseEntry, plain } from './canonical.ts';
export type { Anchor, Outside } from './chain/anchors.ts';
export {
  checkpointIn,
  isSigned,
  isWhole,
  type KeptCheckpoint,
  type SignedCheckpoint,
  type Statement,
  type StoredCheckpoint,
  statementText,
  takeoverText,
  type Verify,
} from './chain/checkpoint.ts';
export { fingerprintOf, keyFingerprint, readFingerprint, sheetCode } from './chain/fingerprint.ts';
export type { KeyLink } from './chain/keychain.ts';
export { type Chain, chained, NO_CHAIN, sealIn } from './chain/seal.ts';
export {
  appendLeaf,
  bytesOfHex,
  checkConsistency,
  checkInclusion,
  consistencyProof,
  type Frontier,
  inclusionProof,
  leafHash,
  leafOfText,
  newFrontier,
  nodeHash,
  rootOf,
  treeHash,
  utf8,
} from './chain/tree.ts';
export type { LogSource } from './log-source.ts';
export { type Attempt, attemptsOf } from './people/attempts.ts';
export { type Comment, type CommentMade, commentFault, commentsOf } from './people/comments.ts';
export {
  type Account,
  type AccountAction,
  type AccountChange,
  type Accounts,
  accountChange,
  accountsOf,
  lockBody,
  openAdministrators,
  type Place,
  signingFault,
} from './people/people-accounts.ts';
export {
  type Amendment,
  type AmendRequest,
  amendable,
  amendedBody,
  amendmentFor,
  amendmentsOf,
} from './people/people-amend.ts';
export {
  ACCOUNT_ROLES,
  type AccountRole,
  ASSURANCES,
  MEANINGS,
  type Meaning,
  WINDOW_ROLES,
  type WindowRole,
} from './people/people-bodies.ts';
export {
  peopleFault,
  signatureFault,
  type WindowSigning,
  windowSigning,
} from './people/people-signing.ts';
export { type Cover, coverOf, type SignatureState, type Signed, signaturesOf } from './people/signing.ts';
export { PUNCH_CATEGORIES, REGISTER_ITEMS, type RegisterItem } from './register/bodies.ts';
export { type BypassSeen, bypassesSeen } from './register/bypasses.ts';
export { overBy, type RegisterLife, type RegisterStep, registerOf } from './register/items.ts';
export { createNames, type Names } from './register/names.ts';
export {
  type ItemOpening,
  type ItemStep,
  itemOpening,
  itemStep,
  type Proof,
  type Proving,
  provingsOf,
} from './register/rules.ts';
export { ANSWERS, decodeAnswers, encodeAnswers } from './trace/answers-block.ts';
export { decodeReadings, encodeReadings, READINGS } from './trace/readings-block.ts';
export {
  type Checkpoint,
  type Damage,
  type Entry,
  type EntryKind,
  type Hash,
  type Json,
  KINDS,
} from './types.ts';
export { type Verified, verifyLog } from './verify.ts';
export { openWindows, type WindowSummary, windowsOf } from './windows.ts';
