using System.CommandLine;
using Washwear.Load;
using Washwear.Load.Fleet;
using Washwear.Load.Looks;
using Washwear.Load.Mixed;
using Washwear.Load.Overload;

// Load on the real program in a process of its own, over loopback; ends with 1 if a limit was not kept. See docs/operations.md.
var folder = new Option<DirectoryInfo>("--folder") { Description = "Folder of the prepared fleet; reports are written there too.", Required = true, Recursive = true };
var program = new Option<FileInfo?>("--program") { Description = "The program under test: a published executable or a dll; left out: the one beside this tool.", Recursive = true };
var url = new Option<string>("--url") { Description = "Loopback address to listen on; port 0: any that is free.", DefaultValueFactory = _ => "http://127.0.0.1:0", Recursive = true };
var seed = new Option<int>("--seed") { Description = "Seed of what is left to chance.", DefaultValueFactory = _ => 1, Recursive = true };
var with = new Option<string[]>("--with") { Description = "A setting of the program under test, as name=value; may be given again.", Recursive = true };
url.Validators.Add(given =>
{
    if (!Uri.TryCreate(given.GetValueOrDefault<string>(), UriKind.Absolute, out Uri? address) || !address.IsLoopback)
    {
        given.AddError("--url takes a loopback address: load is for this machine alone.");
    }
});

var units = new Option<int>("--units") { Description = "How many units, 1 to 10,000.", DefaultValueFactory = _ => 10_000 };
var years = new Option<int>("--years") { Description = "Years of records, 1 to 10.", DefaultValueFactory = _ => 1 };
var prepare = new Command("prepare", "Fill a fresh database with an invented fleet, for several runs.") { units, years };
prepare.SetAction(asked => Preparation.RunAsync(Options(asked), asked.GetValue(units), asked.GetValue(years)));

var clients = new Option<int>("--clients") { Description = "How many clients.", DefaultValueFactory = _ => 200 };
var minutes = new Option<double>("--minutes") { Description = "How long.", DefaultValueFactory = _ => 10 };
var think = new Option<double>("--think") { Description = "What think times are multiplied by.", DefaultValueFactory = _ => 1 };
var mostPost = new Option<double>("--most-post-ms") { Description = "Most that 95 of 100 requests with records may take, ms.", DefaultValueFactory = _ => 250 };
var mostOther = new Option<double>("--most-other-ms") { Description = "Most that 95 of 100 other requests may take, ms.", DefaultValueFactory = _ => 2_000 };
var mixed = new Command("mixed", "A mixed day of many clients.") { clients, minutes, think, mostPost, mostOther };
mixed.SetAction(asked => MixedLoad.RunAsync(Options(asked), new MixedOptions(
    asked.GetValue(clients), TimeSpan.FromMinutes(asked.GetValue(minutes)), asked.GetValue(think), asked.GetValue(mostPost), asked.GetValue(mostOther))));

var shortSeconds = new Option<double>("--short-seconds") { Description = "How long what it carries is measured.", DefaultValueFactory = _ => 10 };
var overSeconds = new Option<double>("--over-seconds") { Description = "How long the overload lasts.", DefaultValueFactory = _ => 30 };
var mostInFlight = new Option<int>("--most-in-flight") { Description = "Most posts under way at once.", DefaultValueFactory = _ => 4_000 };
var mostAsked = new Option<int>("--most-asked") { Description = "Most questions under way at once.", DefaultValueFactory = _ => 500 };
var mostGrowth = new Option<double>("--most-growth-mib") { Description = "Most that resident memory may grow, MiB.", DefaultValueFactory = _ => 400 };
var overload = new Command("overload", "More than it can carry, and back.") { shortSeconds, overSeconds, mostInFlight, mostAsked, mostGrowth };
overload.SetAction(asked => OverloadLoad.RunAsync(Options(asked), new OverloadOptions(
    asked.GetValue(shortSeconds), asked.GetValue(overSeconds), asked.GetValue(mostInFlight), asked.GetValue(mostAsked), asked.GetValue(mostGrowth))));

var rounds = new Option<int>("--rounds") { Description = "How often each page is looked at.", DefaultValueFactory = _ => 5 };
var mostPage = new Option<double>("--most-page-ms") { Description = "Most that the median of a page's looks may take, ms.", DefaultValueFactory = _ => 300 };
var looks = new Command("looks", "One reader looks at every page, a record before each look.") { rounds, mostPage };
looks.SetAction(asked => LooksLoad.RunAsync(Options(asked), new LooksOptions(asked.GetValue(rounds), asked.GetValue(mostPage))));

var root = new RootCommand("Load on Washwear: a mixed day of many clients, more than it can carry, and one reader's look at every page.") { prepare, mixed, overload, looks };
foreach (Option option in (Option[])[folder, program, url, seed, with])
{
    root.Add(option);
}

return await root.Parse(args).InvokeAsync();

LoadOptions Options(ParseResult asked) => new(
    Directory.CreateDirectory(asked.GetValue(folder)!.FullName).FullName, asked.GetValue(program)?.FullName, asked.GetValue(url)!, asked.GetValue(seed))
{
    Settings = asked.GetValue(with) ?? [],
};
