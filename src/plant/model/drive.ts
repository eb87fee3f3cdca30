/** A motor with its contactor, and the shafts it turns. Speeds in rpm, times in seconds. */
export interface Drive {
  readonly nominal: number;
  /** Seconds from standstill to nominal, and from nominal to standstill. */
  readonly runUp: number;
  coast: number;
  /** Contactor: seconds from command to main contacts and back, and from contacts to the feedback contact. */
  readonly pullIn: number;
  dropOut: number;
  readonly feedbackLag: number;
  /** Fraction by which the belt lags behind the drive pulley. */
  slip: number;
  speed: number;
  contactor: boolean;
  /** Main contacts that do not open again, while the auxiliary contact does. */
  welded: boolean;
  /** The isolator between contactor and motor is open. */
  isolated: boolean;
  powered: boolean;
  feedback: boolean;
  sinceCommand: number;
  sinceContactor: number;
}

/** What can be planted in a drive, as it is right. */
export const soundDrive = (): Pick<Drive, 'coast' | 'dropOut' | 'slip' | 'welded' | 'isolated'> => ({
  coast: 3,
  dropOut: 0.04,
  slip: 0,
  welded: false,
  isolated: false,
});

export const newDrive = (nominal: number): Drive => ({
  ...soundDrive(),
  nominal,
  runUp: 2.5,
  pullIn: 0.04,
  feedbackLag: 0.06,
  speed: 0,
  contactor: false,
  powered: false,
  feedback: false,
  sinceCommand: 0,
  sinceContactor: 0,
});

/** Binary sums of steps fall a hair short of a decimal delay. */
const HAIR = 1e-9;

/** Moves the drive on by `dt` seconds under a command at the contactor's coil. */
export const turnDrive = (drive: Drive, commanded: boolean, dt: number): void => {
  drive.sinceCommand = commanded === drive.contactor ? 0 : drive.sinceCommand + dt;
  if (drive.sinceCommand >= (commanded ? drive.pullIn : drive.dropOut) - HAIR) {
    drive.contactor = commanded;
    drive.sinceCommand = 0;
  }
  drive.sinceContactor = drive.contactor === drive.feedback ? 0 : drive.sinceContactor + dt;
  if (drive.sinceContactor >= drive.feedbackLag - HAIR) {
    drive.feedback = drive.contactor;
    drive.sinceContactor = 0;
  }
  drive.powered = !drive.isolated && (drive.contactor || (drive.welded && drive.powered));
  const change = drive.powered ? (drive.nominal / drive.runUp) * dt : -(drive.nominal / drive.coast) * dt;
  drive.speed = Math.max(0, Math.min(drive.nominal, drive.speed + change));
};

/** The shaft that the belt turns: it shows slip, the drive shaft does not. */
export const beltShaft = (drive: Drive): number => drive.speed * (1 - drive.slip);
