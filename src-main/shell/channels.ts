/** Names of the three ways between the window and the shell. */
export const ASK_CHANNEL = 'runledger:ask';
export const HOLD_CHANNEL = 'runledger:hold';
export const EVENT_CHANNEL = 'runledger:event';

/** Under this name the window finds its bridge. */
export const BRIDGE_NAME = 'runledger';
