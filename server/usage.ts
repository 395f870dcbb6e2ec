export const USAGE = `flashbell: a shop-floor kiosk for refinish painting

  flashbell serve [--port N] [--data DIR]   serve the kiosk on 127.0.0.1 until Ctrl-C
  flashbell practice [--port N] [--data DIR]  serve an invented morning at ten times speed, port 4610, data/practice
  flashbell verify [--data DIR]             check that every entry and picture is as it was kept
  flashbell backup DIR [--data DIR]         make a checked copy of log and pictures in DIR, also while serving
  flashbell restore BACKUP [--data DIR] [--replace]  put a backup, or the newest in a folder, in place of the log
  flashbell export FILE | import FILE [--data DIR]   every entry as a line of JSON; import into an empty folder
  flashbell export FILE.html|FILE.jsonl --job ID [--data DIR]  one job, as a page that checks itself or as CloudEvents
  flashbell print KIND [ID] [--printer NAME] [--port N]  a label or sheet on a printer of the server that runs
  flashbell calc NAME                       a calculation: JSON from standard input to standard output
  flashbell rehearse FILE                   play a list of commands in simulated time
  flashbell forecast [FILE] [--data DIR]    when each panel and job is done, as JSON: of the log, or at a rehearsal's end
  flashbell sheets [--data DIR]             the shop's product sheets as a JSON file, which another shop can import
  flashbell sheets check FILE               each wrong field of such a file in a sentence
  flashbell help | --help | --version

--port is 4600 (or FLASHBELL_PORT), of practice 4610 (or FLASHBELL_PRACTICE_PORT); 0 takes a free one. --data is data (or FLASHBELL_DATA).
verify ends with 0 for a whole log, 1 for one that is not as it was written, 3 for a whole log of which a picture is missing.
backup keeps all of the last 7 days that have one (--keep-days), then the last of each week for 5 weeks (--keep-weeks) and
of each month for 12 months (--keep-months). It removes a backup only if the new one has all its entries, and never the last.
restore checks the backup first. With --replace it moves the log that is there to before-restore-... and deletes nothing.
print: KIND is cup, panel, job, person, gun, shelf, commands (no ID) or ruler (ID is a printer). --why of another copy, --lot of a shelf.
It ends with 0 once it is on paper, 1 if it cannot be printed, 3 while it waits for its printer (it then comes out by itself).
The built kiosk is kept in the data folder's cache/ (or FLASHBELL_CACHE); it can be deleted at any time.
`
