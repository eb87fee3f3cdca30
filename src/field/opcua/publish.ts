import type { Library, Session } from './library.ts';
import { createSequence } from './sequence.ts';
import { statusIn } from './trouble.ts';

type Message = import('node-opcua-client').NotificationMessage;
type Response = import('node-opcua-client').PublishResponse;

/** What comes of a subscription, in its order. */
export interface PublishEars {
  /** `whole`: with this, everything up to the message's time has been said. */
  message(message: Message, whole: boolean): void;
  /** Values were lost and cannot be had again. */
  hole(): void;
  /** Nothing more will come. */
  ended(why: string): void;
}

/** Questions that wait at the server, so that it can always answer at once. */
const WAITING = 5;
/** Milliseconds after which a question that nobody answered is given up; the source's own time-out is shorter. */
const PATIENCE = 120_000;
/** A server that refuses that many questions in a row has nothing more to say. */
const REFUSALS = 20;

interface Publisher {
  readonly library: Library;
  readonly session: Session;
  readonly subscription: number;
  readonly ears: PublishEars;
}

const republish = (
  { library, session, subscription }: Publisher,
  number: number,
): Promise<Message | undefined> =>
  new Promise((resolve) => {
    session.republish(
      new library.RepublishRequest({ subscriptionId: subscription, retransmitSequenceNumber: number }),
      (error, response) => resolve(error ? undefined : response?.notificationMessage),
    );
  });

/**
 * Keeps questions waiting at the server, confirms what came, and hands it on without a gap: what is missing is asked
 * for again first, and told as a hole where the server no longer has it.
 */
export const publish = (
  library: Library,
  session: Session,
  subscription: number,
  ears: PublishEars,
): { stop(): void } => {
  const self: Publisher = { library, session, subscription, ears };
  const sequence = createSequence();
  let confirm: number[] = [];
  let wanted = WAITING;
  let waiting = 0;
  let refusals = 0;
  let stopped = false;
  // Set while something is asked for again: what comes meanwhile has to wait behind it.
  let catching: Promise<void> | undefined;

  const deliver = (message: Message, whole: boolean): void => {
    if (!stopped) ears.message(message, whole);
  };

  const catchUp = async (numbers: readonly number[]): Promise<void> => {
    for (const number of numbers) {
      const message = await republish(self, number);
      if (stopped) return;
      if (message === undefined) {
        ears.hole();
        return;
      }
      confirm.push(number);
      deliver(message, false);
    }
  };

  const take = ({ notificationMessage: message, moreNotifications: more }: Response): void => {
    const keepAlive = (message.notificationData ?? []).length === 0;
    const skipped = sequence.take(message.sequenceNumber, keepAlive);
    if (!keepAlive) confirm.push(message.sequenceNumber);
    if (skipped === undefined) return;
    if (skipped.length === 0 && catching === undefined) {
      deliver(message, !more);
      return;
    }
    const turn: Promise<void> = (catching ?? Promise.resolve())
      .then(() => catchUp(skipped))
      .then(() => {
        deliver(message, !more);
        if (catching === turn) catching = undefined;
      });
    catching = turn;
  };

  const refused = (error: Error): void => {
    const status = statusIn(error);
    refusals += 1;
    if (status === 'BadTooManyPublishRequests') wanted = Math.max(1, waiting);
    else if (
      /^Bad(NoSubscription|Session|SecureChannel|SubscriptionIdInvalid)/.test(status) ||
      refusals > REFUSALS
    ) {
      stopped = true;
      ears.ended(status || 'publish-refused');
    }
  };

  const fill = (): void => {
    while (!stopped && waiting < wanted) ask();
  };

  const ask = (): void => {
    waiting += 1;
    const acknowledged = confirm;
    confirm = [];
    const request = new library.PublishRequest({
      requestHeader: { timeoutHint: PATIENCE },
      subscriptionAcknowledgements: acknowledged.map((sequenceNumber) => ({
        subscriptionId: subscription,
        sequenceNumber,
      })),
    });
    session.publish(request, (error, response) => {
      waiting -= 1;
      if (stopped) return;
      if (error || response === undefined) refused(error ?? new Error('no response'));
      else if (response.subscriptionId === subscription) {
        refusals = 0;
        take(response);
      }
      // Not from within the library's own turn: a session that fails at once would call itself for ever.
      setImmediate(fill);
    });
  };

  fill();
  return {
    stop() {
      stopped = true;
    },
  };
};
