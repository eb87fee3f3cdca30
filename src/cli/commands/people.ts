import { type Command, Option } from 'commander';
import { ACCOUNT_ROLES, MEANINGS, PUNCH_CATEGORIES, REGISTER_ITEMS } from '../../record/index.ts';
import { type Commands, does, listed, number } from './commander.ts';

const withDaemon = (made: Command): Command =>
  made
    .option('--daemon <url>', 'the daemon that writes the log, if it is not where it said')
    .option('--keys <folder>', 'folder of the site key, if it is not beside the log');

const withAccount = (made: Command, as: string): Command =>
  withDaemon(made)
    .option('--as <id>', as)
    .option('--password-from <variable>', 'environment variable that holds its password; else you are asked');

/** A name as typed, or an account by its password. */
export const withWho = (made: Command): Command =>
  withAccount(
    made.option('--by <name>', 'who enters this'),
    'account of whoever enters this, instead of --by',
  );

const group = ({ program }: Commands, name: string, text: string) => {
  const made = program.command(name).description(text);
  return (command: string, what: string): Command =>
    made.command(command).description(what).option('--json', 'one JSON document on standard output', false);
};

const accounts = (commands: Commands): void => {
  const command = group(commands, 'people', 'accounts of those who sign; ids are never given twice');
  const role = (made: Command): Command =>
    made.addOption(
      new Option('--role <name...>', 'what the account may do').choices(ACCOUNT_ROLES).makeOptionMandatory(),
    );
  const change = (made: Command): Command =>
    withAccount(made.argument('<log>').argument('<id>'), 'account of an administrator');
  const fresh = (made: Command): Command =>
    made.option('--new-password-from <variable>', 'environment variable that holds the new password');

  does(
    fresh(role(change(command('add', 'add an account; the first is an administrator')))).requiredOption(
      '--name <name>',
      'printed name of the person',
    ),
    async (log: string, id: string, options: never) =>
      (await import('../people.ts')).changeCommand('added', log, id, options),
  );
  does(
    command('list', 'accounts with their roles').argument('<log>'),
    async (log: string, options: { json: boolean }) =>
      (await import('../people.ts')).listPeople(log, options),
  );
  does(
    role(change(command('roles', 'give an account other roles'))),
    async (log: string, id: string, options: never) =>
      (await import('../people.ts')).changeCommand('roles-changed', log, id, options),
  );
  does(
    fresh(change(command('password', 'set a new password: your own, or as administrator'))),
    async (log: string, id: string, options: never) =>
      (await import('../people.ts')).changeCommand('password-changed', log, id, options),
  );
  does(
    change(command('unlock', 'let an account in again after too many wrong passwords')),
    async (log: string, id: string, options: never) =>
      (await import('../people.ts')).changeCommand('unlocked', log, id, options),
  );
  does(
    change(command('close', 'close an account for ever')),
    async (log: string, id: string, options: never) =>
      (await import('../people.ts')).changeCommand('closed', log, id, options),
  );
};

const papers = ({ command }: Commands): void => {
  does(
    withDaemon(command('sign', 'sign for a closed window, by password'))
      .argument('<log>')
      .argument('<window>')
      .requiredOption('--as <id>', 'account of whoever signs')
      .addOption(
        new Option('--meaning <word>', 'what the signature says').choices(MEANINGS).makeOptionMandatory(),
      )
      .option(
        '--password-from <variable>',
        'environment variable that holds its password; else you are asked',
      ),
    async (log: string, window: string, options: never) =>
      (await import('../papers.ts')).signCommand(log, window, options),
  );
  does(
    command('papers', 'signatures, corrections, attestations and sheets of a window; what is missing')
      .argument('<log>')
      .argument('[window]', 'window or sheet; else a line for each'),
    async (log: string, window: string | undefined, options: { json: boolean }) =>
      (await import('../papers.ts')).papersCommand(log, window, options),
  );
  does(
    withWho(command('amend', 'correct what people wrote; the old text stays to be seen'))
      .argument('<log>')
      .argument('<window>')
      .requiredOption('--entry <n>', 'number of the entry that is wrong', number)
      .requiredOption('--field <path>', 'which text of it, such as body.note')
      .requiredOption('--becomes <text>', 'what it should say')
      .requiredOption('--reason <text>', 'why'),
    async (log: string, window: string, options: never) =>
      (await import('../papers.ts')).amendCommand(log, window, options),
  );
  does(
    withWho(command('transcribe', 'enter a sheet that was filled in by hand; it is never a verdict'))
      .argument('<log>')
      .argument('<window>', 'window that it belongs to, or "new"')
      .argument('<file>', 'CSV (field,value) or a JSON object')
      .option('--sheet <name>', 'which sheet; else its field "sheet"')
      .option('--filled-by <name>', 'who filled it in; else its field "by"')
      .option('--filled-on <when>', 'when, as it says there; else its field "on"'),
    async (log: string, window: string, file: string, options: never) =>
      (await import('../transcribe.ts')).transcribeCommand(log, window, file, options),
  );
};

const register = (commands: Commands): void => {
  const command = group(
    commands,
    'register',
    'deferrals, impairments, punch items and bypasses, from opening to end',
  );
  does(
    withWho(command('open', `open one of: ${REGISTER_ITEMS.join(', ')}`))
      .argument('<log>')
      .argument('<item>')
      .requiredOption('--on <name>', 'interlock or machine')
      .requiredOption('--text <text>', 'what it is')
      .option('--until <day>', 'deferral, impairment, bypass: expected end, YYYY-MM-DD')
      .option('--hours <n>', 'bypass: may last so long', number)
      .option('--since <utc>', 'since when, where that was before now')
      .option('--reason <text>', 'deferral, bypass: why')
      .option('--risk <text>', 'deferral: what follows from waiting')
      .option('--approver <name>', 'deferral, bypass: who allows it')
      .option('--precautions <text>', 'impairment: what protects meanwhile')
      .addOption(listed('--notified <name>', 'impairment: who was told (again for more)'))
      .addOption(
        new Option('--category <letter>', 'punch: before product, before handover, later').choices(
          PUNCH_CATEGORIES,
        ),
      )
      .option('--owner <name>', 'punch: who mends it')
      .option('--due <day>', 'punch: until when, YYYY-MM-DD')
      .option('--window <id>', 'window that showed it'),
    async (log: string, item: string, options: never) =>
      (await import('../register.ts')).openItemCommand(log, item, options),
  );
  for (const [name, action, text] of [
    ['note', 'noted', 'enter a note on an item'],
    ['close', 'closed', 'close an item; punch category A by a window that passed'],
  ] as const)
    does(
      withWho(command(name, text))
        .argument('<log>')
        .argument('<id>', 'such as punch-3')
        .requiredOption('--text <text>', 'what was done')
        .option('--window <id>', 'window that shows it'),
      async (log: string, id: string, options: never) =>
        (await import('../register.ts')).stepCommand(action, log, id, options),
    );
  does(
    command(
      'list',
      'items with their life, and bypasses that windows tell of; exit 1 where one is over its limit',
    )
      .argument('<log>')
      .option('--open', 'only what is open', false),
    async (log: string, options: { json: boolean; open: boolean }) =>
      (await import('../register.ts')).listItemsCommand(log, options),
  );
};

/** People and what they enter beside a window's marks. */
export const peopleCommands = (commands: Commands): void => {
  accounts(commands);
  papers(commands);
  register(commands);
};
