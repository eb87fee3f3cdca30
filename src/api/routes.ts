import { z } from 'zod';
import type { AccountRole, Entry } from '../record/index.ts';
import { bookSchema } from './answers/book.ts';
import { guideSchema, planNowSchema } from './answers/guide.ts';
import { findingToldSchema, markedSchema, nowSchema, openedSchema, windowNowSchema } from './answers/now.ts';
import {
  accountSchema,
  enteredSchema,
  logNowSchema,
  registerItemSchema,
  signingSchema,
} from './answers/papers.ts';
import { dueSchema, matrixSchema } from './answers/proofs.ts';
import {
  liveBeginSchema,
  liveQuery,
  rowsSchema,
  skippedSchema,
  traceQuery,
  traceSchema,
} from './answers/rows.ts';
import { sessionSchema, signInSchema } from './answers/session.ts';
import { recordSchema, windowLineSchema } from './answers/windows.ts';
import { enteringSchema } from './entering.ts';
import { closeSchema, markSchema, openWindowSchema } from './schemas.ts';
import { stepSchema } from './steps.ts';

export interface Route {
  /** What it is for, in a sentence. */
  readonly says: string;
  /** Least role of the account that asks; `anybody`: before anybody has signed in; `by-request`: see `roleToEnter`. */
  readonly role: AccountRole | 'anybody' | 'by-request';
  readonly query?: z.ZodType;
  /** Body of the request, JSON. */
  readonly body?: z.ZodType;
  /** Status of the answer where it is not 200. */
  readonly status?: 201;
  /** The answer as JSON; or events of a stream that does not end; or a file of that type. */
  readonly answer:
    | z.ZodType
    | { readonly events: Readonly<Record<string, z.ZodType>> }
    | { readonly file: string };
}

/**
 * Every route of the API: the one table. The server serves nothing under /api that is not in it, asks for the role, checks
 * what comes in and sends the status; the OpenAPI document and the types of the client are made from it.
 */
export const ROUTES = {
  'GET /api/session': {
    says: 'Who is signed in, and how this daemon is entered.',
    role: 'anybody',
    answer: sessionSchema,
  },
  'POST /api/session': {
    says: 'Sign in.',
    role: 'anybody',
    body: signInSchema,
    status: 201,
    answer: sessionSchema,
  },
  'DELETE /api/session': {
    says: 'Sign out.',
    role: 'anybody',
    answer: sessionSchema,
  },
  'GET /api/openapi.json': {
    says: 'This description.',
    role: 'viewer',
    answer: z.looseObject({ openapi: z.string() }),
  },
  'GET /api/now': {
    says: 'Everything as it is now.',
    role: 'viewer',
    answer: nowSchema,
  },
  'GET /api/stream': {
    says: 'The present state twice a second, findings as they come, and where a guided window stands when that changes.',
    role: 'viewer',
    answer: {
      events: {
        now: nowSchema,
        finding: z.strictObject({ ...findingToldSchema.shape, window: z.string() }),
        guide: guideSchema,
      },
    },
  },
  'GET /api/book': {
    says: 'What the site is made of, with levels as they are known now and the units that signals can be shown in.',
    role: 'viewer',
    answer: bookSchema,
  },
  'GET /api/live': {
    says: 'Readings of chosen signals as they come, thinned out so that no excursion is hidden.',
    role: 'viewer',
    query: liveQuery,
    answer: { events: { begin: liveBeginSchema, rows: rowsSchema, skipped: skippedSchema } },
  },
  'GET /api/windows': {
    says: 'Every window of the log, newest first.',
    role: 'viewer',
    answer: z.array(windowLineSchema),
  },
  'GET /api/windows/:id/record': {
    says: 'Everything about a recorded window but its trace, with the sums behind its verdicts.',
    role: 'viewer',
    answer: recordSchema,
  },
  'GET /api/windows/:id/trace': {
    says: 'Readings of a recorded window, thinned out so that no excursion is hidden.',
    role: 'viewer',
    query: traceQuery,
    answer: traceSchema,
  },
  'GET /api/windows/:id/report.pdf': {
    says: 'The report of a recorded window as PDF.',
    role: 'viewer',
    answer: { file: 'application/pdf' },
  },
  'GET /api/matrix': {
    says: 'Causes and effects, with what is proved of each now.',
    role: 'viewer',
    answer: matrixSchema,
  },
  'GET /api/due': {
    says: 'What is due, the most urgent first.',
    role: 'viewer',
    answer: dueSchema,
  },
  'POST /api/windows': {
    says: 'Open a test window.',
    role: 'tester',
    body: openWindowSchema,
    status: 201,
    answer: openedSchema,
  },
  'GET /api/windows/:id': {
    says: 'A window of this run, with its findings from number `from` on.',
    role: 'viewer',
    query: z.strictObject({ from: z.coerce.number().int().min(0).default(0) }),
    answer: windowNowSchema,
  },
  'POST /api/windows/:id/marks': {
    says: 'Enter what people say or do during a window.',
    role: 'tester',
    body: markSchema,
    answer: markedSchema,
  },
  'GET /api/plan': {
    says: 'How to test `interlocks` (names, by commas) by `methods` (one each, or one for all), and what that can prove.',
    role: 'tester',
    query: z.strictObject({ interlocks: z.string().min(1), methods: z.string().optional() }),
    answer: z.array(planNowSchema),
  },
  'GET /api/windows/:id/guide': {
    says: 'Where a guided window stands.',
    role: 'viewer',
    answer: guideSchema,
  },
  'POST /api/windows/:id/steps': {
    says: 'Take a step in a guided window; `by` may be left out where an account is signed in.',
    role: 'tester',
    body: stepSchema,
    answer: guideSchema,
  },
  'POST /api/windows/:id/close': {
    says: 'Close a window and judge it.',
    role: 'tester',
    body: closeSchema,
    answer: windowNowSchema,
  },
  'GET /api/windows/:id/report.html': {
    says: 'The report of a recorded window, as a page that stands alone.',
    role: 'viewer',
    answer: { file: 'text/html' },
  },
  'GET /api/windows/:id/signing': {
    says: 'Signatures of a window, and what its site demands.',
    role: 'viewer',
    answer: signingSchema,
  },
  'GET /api/log': {
    says: 'Which log this daemon writes.',
    role: 'anybody',
    answer: logNowSchema,
  },
  'GET /api/people': {
    says: 'Accounts with their roles.',
    role: 'viewer',
    answer: z.array(accountSchema),
  },
  'GET /api/register': {
    says: 'Deferrals, impairments, punch items and bypasses, each with its life.',
    role: 'viewer',
    answer: z.array(registerItemSchema),
  },
  'POST /api/entries': {
    says: 'Enter a signature, a correction, a comment, a sheet, a register item, a scope, or a change of accounts.',
    role: 'by-request',
    body: enteringSchema,
    status: 201,
    answer: enteredSchema,
  },
} as const satisfies Readonly<Record<`${'GET' | 'POST' | 'DELETE'} /api/${string}`, Route>>;

export type RouteName = keyof typeof ROUTES;

type Fixed<T> = T extends string | number | boolean | null | undefined
  ? T
  : Entry['body'] extends T
    ? T
    : { readonly [Key in keyof T]: Fixed<T[Key]> };

/** What a route answers, as a value. */
export type AnswerOf<Name extends RouteName> = (typeof ROUTES)[Name]['answer'] extends infer Schema
  ? Schema extends z.ZodType
    ? Fixed<z.output<Schema>>
    : never
  : never;

/** What the server gets of a body once it is checked. */
export type BodyOf<Name extends RouteName> = (typeof ROUTES)[Name] extends {
  body: infer Schema extends z.ZodType;
}
  ? z.output<Schema>
  : undefined;

export type QueryOf<Name extends RouteName> = (typeof ROUTES)[Name] extends {
  query: infer Schema extends z.ZodType;
}
  ? z.output<Schema>
  : undefined;

/** What a client sends. */
export type Sent<Name extends RouteName> = (typeof ROUTES)[Name] extends {
  body: infer Schema extends z.ZodType;
}
  ? z.input<Schema>
  : undefined;

type Names<Path> = Path extends `${string}:${infer Name}/${infer Rest}`
  ? Name | Names<`/${Rest}`>
  : Path extends `${string}:${infer Name}`
    ? Name
    : never;

/** Names in the path, such as `id`. */
export type PlacesOf<Name extends RouteName> = { readonly [Place in Names<Name>]: string };
