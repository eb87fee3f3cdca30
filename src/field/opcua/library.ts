export type Library = typeof import('node-opcua-client');
export type Client = import('node-opcua-client').OPCUAClient;
type Raw = import('node-opcua-client').ClientSessionRawSubscriptionService;
/**
 * Reading, browsing and subscribing; the library's type for a session knows no Write. Subscriptions are made and fed by
 * hand: the library hides sequence numbers, and hands out ten thousand values as ten thousand events.
 */
export type Session = import('node-opcua-client').ClientSession &
  Pick<Raw, 'createSubscription' | 'createMonitoredItems'> &
  import('node-opcua-client').ClientSessionPublishService;
export type DataValue = import('node-opcua-client').DataValue;
export type Endpoint = import('node-opcua-client').EndpointDescription;
export type NodeId = import('node-opcua-client').NodeId;

/** Loads the library when the first source needs it; its words go to `onLog`, never to the terminal. */
export const loadLibrary = async (onLog: ((text: string) => void) | undefined): Promise<Library> => {
  const library = await import('node-opcua-client');
  const hear = (...words: unknown[]): void => onLog?.(words.join(' '));
  library.setWarningLogger(hear);
  library.setErrorLogger(hear);
  return library;
};
