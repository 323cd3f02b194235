#include "actions/sealing.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/open_journal.h"

namespace jigtime::cli {
namespace {

struct AmendArguments {
  std::string journal;
  std::string session;
  std::string before;
  std::string after;
  std::string reason;
};

Exit run_amend(Terminal& terminal, const AmendArguments& arguments) {
  auto open = open_session(arguments.journal, arguments.session);
  if (!open) return terminal.fail(open.error());
  const auto entry = actions::amend_session(open->store, open->session.id, arguments.before, arguments.after,
                                            arguments.reason, std::chrono::system_clock::now());
  if (!entry) return terminal.fail(entry.error());
  terminal.say("Entry " + std::to_string(entry->number) + " amends " + to_text(open->session.date) + ": \"" +
               entry->before + "\" is \"" + entry->after + "\". Both stay in the record.");
  terminal.say("Digest " + entry->digest);
  terminal.print({{"session", to_text(open->session.date)},
                  {"number", entry->number},
                  {"before", entry->before},
                  {"after", entry->after},
                  {"reason", entry->reason},
                  {"digest", entry->digest},
                  {"previous", entry->previous}});
  return Exit::done;
}

struct KeyArguments {
  std::string file;
  std::string verb;
};

Exit run_key(Terminal& terminal, const KeyArguments& arguments) {
  const auto key = arguments.verb == "new" ? actions::make_key(arguments.file) : actions::public_key(arguments.file);
  if (!key) return terminal.fail(key.error());
  if (arguments.verb == "new") terminal.note("Keep this file to yourself, with a copy in a safe place.");
  terminal.say(*key);
  terminal.print({{"public_key", *key}});
  return Exit::done;
}

struct SignArguments {
  std::string journal;
  int number = 0;
  std::string key;
};

Exit run_sign(Terminal& terminal, const SignArguments& arguments) {
  auto store = open_journal(arguments.journal);
  if (!store) return terminal.fail(store.error());
  const auto signature = actions::sign_entry(*store, arguments.number, arguments.key);
  if (!signature) return terminal.fail(signature.error());
  terminal.say("Entry " + std::to_string(signature->number) + " signed by the key " + signature->public_key + ".");
  terminal.print(
      {{"entry", signature->number}, {"public_key", signature->public_key}, {"signature", signature->signature}});
  return Exit::done;
}

}  // namespace

void add_seal_commands(Commands& commands) {
  auto& amend = commands.keep<AmendArguments>();
  CLI::App* app = commands.add("amend", "Append to a sealed entry what was wrong in it; both stay",
                               "jigtime amend elevator.jigtime --session 2026-03-14 --before \"58 set\" --after "
                               "\"57 set\" --reason \"counted again\"");
  app->add_option("JOURNAL", amend.journal, "The journal file")->required();
  app->add_option("--session", amend.session, "Day of the session, YYYY-MM-DD")->required();
  app->add_option("--before", amend.before, "What the entry says")->required();
  app->add_option("--after", amend.after, "What holds instead")->required();
  app->add_option("--reason", amend.reason, "Why")->required();
  commands.run(app, [&amend](Terminal& terminal) { return run_amend(terminal, amend); });

  auto& key = commands.keep<KeyArguments>();
  app = commands.add("key", "A key pair to sign entries with, kept in a file of its own",
                     "jigtime key ~/mara.key new\n  jigtime key ~/mara.key public");
  app->add_option("FILE", key.file, "The key file; never inside a journal")->required();
  app->add_option("VERB", key.verb, "new makes it; public prints what others check signatures by")
      ->required()
      ->check(CLI::IsMember({"new", "public"}));
  commands.run(app, [&key](Terminal& terminal) { return run_key(terminal, key); });

  auto& sign = commands.keep<SignArguments>();
  app = commands.add("sign", "Sign a sealed entry, and by its chain all before it",
                     "jigtime sign elevator.jigtime --entry 3 --key ~/mara.key\n\n"
                     "Signed are the bytes \"jigtime entry \" and the entry's digest, with Ed25519: anybody can check\n"
                     "it by the public key. 'verify' checks every signature.");
  app->add_option("JOURNAL", sign.journal, "The journal file")->required();
  app->add_option("--entry", sign.number, "Number of the entry")->required();
  app->add_option("--key", sign.key, "The key file")->required();
  commands.run(app, [&sign](Terminal& terminal) { return run_sign(terminal, sign); });
}

}  // namespace jigtime::cli
