/** A motor with its contactor, and the shafts it turns. Speeds in rpm, times in seconds. */
export interface Drive {
  readonly nominal: number;
  /** Seconds from standstill to nominal, and from nominal to standstill. */
  readonly runUp: number;
  readonly coast: number;
  /** Contactor: seconds from command to main contacts, and from contacts to the feedback contact. */
  readonly pullIn: number;
  readonly feedbackLag: number;
  /** Fraction by which the belt lags behind the drive pulley. */
  slip: number;
  speed: number;
  contactor: boolean;
  /** Main contacts that do not open again, while the auxiliary contact does. */
  welded: boolean;
  powered: boolean;
  feedback: boolean;
  sinceCommand: number;
  sinceContactor: number;
}

export const newDrive = (nominal: number): Drive => ({
  nominal,
  runUp: 2.5,
  coast: 3,
  pullIn: 0.04,
  feedbackLag: 0.06,
  slip: 0,
  speed: 0,
  contactor: false,
  welded: false,
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
  if (drive.sinceCommand >= drive.pullIn - HAIR) {
    drive.contactor = commanded;
    drive.sinceCommand = 0;
  }
  drive.sinceContactor = drive.contactor === drive.feedback ? 0 : drive.sinceContactor + dt;
  if (drive.sinceContactor >= drive.feedbackLag - HAIR) {
    drive.feedback = drive.contactor;
    drive.sinceContactor = 0;
  }
  drive.powered = drive.contactor || (drive.welded && drive.powered);
  const change = drive.powered ? (drive.nominal / drive.runUp) * dt : -(drive.nominal / drive.coast) * dt;
  drive.speed = Math.max(0, Math.min(drive.nominal, drive.speed + change));
};

/** The shaft that the belt turns: it shows slip, the drive shaft does not. */
export const beltShaft = (drive: Drive): number => drive.speed * (1 - drive.slip);
