using Washwear.Dashboard.Account;
using Washwear.Dashboard.Alerts;
using Washwear.Dashboard.Approvals;
using Washwear.Dashboard.Audit;
using Washwear.Dashboard.Board;
using Washwear.Dashboard.Cleaning;
using Washwear.Dashboard.Failures;
using Washwear.Dashboard.Help;
using Washwear.Dashboard.Import;
using Washwear.Dashboard.Links;
using Washwear.Dashboard.Operators;
using Washwear.Dashboard.PartLife;
using Washwear.Dashboard.People;
using Washwear.Dashboard.Planning;
using Washwear.Dashboard.Reference;
using Washwear.Dashboard.Repairs;
using Washwear.Dashboard.Search;
using Washwear.Dashboard.Shell;
using Washwear.Dashboard.SignIn;
using Washwear.Dashboard.Sites;
using Washwear.Dashboard.Tests.Approvals;
using Washwear.Dashboard.Tests.Audit;
using Washwear.Dashboard.Tests.Failures;
using Washwear.Dashboard.Tests.Import;
using Washwear.Dashboard.Tests.Links;
using Washwear.Dashboard.Tests.Operators;
using Washwear.Dashboard.Tests.Planning;
using Washwear.Dashboard.Tests.Repairs;
using Washwear.Dashboard.Tests.Search;
using Washwear.Dashboard.Tests.Timeline;
using Washwear.Dashboard.Tests.Today;
using Washwear.Dashboard.Tests.VisitSheets;
using Washwear.Dashboard.Tests.Visits;
using Washwear.Dashboard.Timeline;
using Washwear.Dashboard.Today;
using Washwear.Dashboard.Units;
using Washwear.Dashboard.VisitSheets;
using Washwear.Dashboard.Visits;

namespace Washwear.Dashboard.Tests;

/// <summary>Every page with a full, a hostile and an empty report.</summary>
public sealed class Pages : TheoryData<string>
{
    private static readonly ProblemReport Problem = new(404, "There is no unit 'OV-9'", "No unit has this tag.", "Check the tag.",
        "00-7f3a");

    private static readonly Dictionary<string, (Type Page, object Report, PageContext Context)> All = new()
    {
        ["today, full"] = (typeof(TodayPage), TodaySamples.Full, Samples.Context),
        ["today, hostile"] = (typeof(TodayPage), TodaySamples.HostileLines, Hostile.Context),
        ["today, empty"] = (typeof(TodayPage), Hostile.EmptyToday, Samples.Context),
        ["cleaning, full"] = (typeof(CleaningPage), Samples.Cleaning, Samples.Context),
        ["cleaning, hostile"] = (typeof(CleaningPage), Hostile.Cleaning, Hostile.Context),
        ["cleaning, empty"] = (typeof(CleaningPage), Hostile.EmptyCleaning, Samples.Context),
        ["alerts, full"] = (typeof(AlertsPage), Samples.Alerts, Samples.Context),
        ["alerts, hostile"] = (typeof(AlertsPage), Hostile.Alerts, Hostile.Context),
        ["alerts, empty"] = (typeof(AlertsPage), Hostile.EmptyAlerts, Samples.Context),
        ["audit, full"] = (typeof(AuditPage), AuditSamples.Page, Samples.Context),
        ["audit, hostile"] = (typeof(AuditPage), AuditSamples.HostilePage, Hostile.Context),
        ["audit, empty"] = (typeof(AuditPage), AuditSamples.Empty, Samples.Context),
        ["digest, full"] = (typeof(DigestPage), Samples.Digest, Samples.Context),
        ["digest, hostile"] = (typeof(DigestPage), Hostile.Digest, Hostile.Context),
        ["approvals, full"] = (typeof(ApprovalsPage), ApprovalSamples.Page, Samples.Context),
        ["approvals, hostile"] = (typeof(ApprovalsPage), ApprovalSamples.HostilePage, Hostile.Context),
        ["approvals, empty"] = (typeof(ApprovalsPage), ApprovalSamples.Empty, Samples.Context),
        ["import, full"] = (typeof(ImportStartPage), ImportSamples.Start, Samples.Context),
        ["import, hostile"] = (typeof(ImportStartPage), ImportSamples.HostileStart, Hostile.Context),
        ["import, empty"] = (typeof(ImportStartPage), ImportSamples.EmptyStart, Samples.Context),
        ["import mapping, full"] = (typeof(ImportMapPage), ImportSamples.Map, Samples.Context),
        ["import mapping, hostile"] = (typeof(ImportMapPage), ImportSamples.HostileMap, Hostile.Context),
        ["import run, done"] = (typeof(ImportRunPage), ImportSamples.Done, Samples.Context),
        ["import run, running"] = (typeof(ImportRunPage), ImportSamples.Done with { State = "running", Rows = null }, Samples.Context),
        ["import run, hostile"] = (typeof(ImportRunPage), ImportSamples.HostileRun, Hostile.Context),
        ["plan, full"] = (typeof(PlanPage), PlanSamples.Page, Samples.Context),
        ["plan, more visits"] = (typeof(PlanPage), PlanSamples.Page with { Plan = PlanSamples.Plan with { Visits = 51 } }, Samples.Context),
        ["plan, hostile"] = (typeof(PlanPage), PlanSamples.HostilePage, Hostile.Context),
        ["plan, empty"] = (typeof(PlanPage), PlanSamples.Empty, Samples.Context),
        ["what if, tried"] = (typeof(WhatIfPage), PlanSamples.WhatIf, Samples.Context),
        ["what if, hostile"] = (typeof(WhatIfPage), PlanSamples.HostileWhatIf, Hostile.Context),
        ["what if, empty"] = (typeof(WhatIfPage), PlanSamples.WhatIf with { Result = null, Entered = new Dictionary<string, string>(), Suppliers = [], Positions = [] }, Samples.Context),
        ["plan parts, full"] = (typeof(PlanPartsPage), PlanningSamples.Parts, Samples.Context),
        ["plan parts, hostile"] = (typeof(PlanPartsPage), PlanningSamples.HostileParts, Hostile.Context),
        ["plan parts, empty"] = (typeof(PlanPartsPage), PlanningSamples.NoParts, Samples.Context),
        ["plan stock, full"] = (typeof(PlanStockPage), PlanningSamples.Stock, Samples.Context),
        ["plan stock, hostile"] = (typeof(PlanStockPage), PlanningSamples.HostileStock, Hostile.Context),
        ["plan stock, empty"] = (typeof(PlanStockPage), PlanningSamples.NoStock, Samples.Context),
        ["plan forecast, full"] = (typeof(PlanForecastPage), PlanningSamples.ForecastPage, Samples.Context),
        ["plan forecast, hostile"] = (typeof(PlanForecastPage), PlanningSamples.HostileForecastPage, Hostile.Context),
        ["plan forecast, empty"] = (typeof(PlanForecastPage), PlanningSamples.NoForecast, Samples.Context),
        ["repairs, full"] = (typeof(RepairsPage), RepairSamples.Page, Samples.Context),
        ["repairs, hostile"] = (typeof(RepairsPage), RepairSamples.HostilePage, Hostile.Context),
        ["repairs, empty"] = (typeof(RepairsPage), RepairSamples.Empty, Samples.Context),
        ["today, technician"] = (typeof(TodayPage), Samples.Today with { For = TodayRole.Technician }, Samples.Context),
        ["today, operator"] = (typeof(TodayPage), TodaySamples.Of(TodayRole.Operator), Samples.Context),
        ["today, planner"] = (typeof(TodayPage), TodaySamples.Of(TodayRole.Planner), Samples.Context),
        ["today, unproven"] = (typeof(TodayPage), TodaySamples.Of(TodayRole.Technician), Samples.Context),
        ["today, unproven hostile"] = (typeof(TodayPage), Hostile.Today with { For = TodayRole.Technician, Unproven = RepairSamples.HostileUnproven }, Hostile.Context),
        ["today, wearing hostile"] = (typeof(TodayPage), TodaySamples.HostileLines with { For = TodayRole.Planner }, Hostile.Context),
        ["unit, repaired"] = (typeof(UnitPage), Samples.UnitPage with { LastRepair = RepairSamples.InDoubt }, Samples.Context),
        ["unit, repaired hostile"] = (typeof(UnitPage), Hostile.UnitPage with { LastRepair = RepairSamples.Bad }, Hostile.Context),
        ["part life, full"] = (typeof(PartLifePage), Samples.PartLife, Samples.Context),
        ["part life, too few"] = (typeof(PartLifePage), Samples.PartLife with { Selected = Samples.TooFew }, Samples.Context),
        ["part life, hostile"] = (typeof(PartLifePage), Hostile.PartLife, Hostile.Context),
        ["part life, empty"] = (typeof(PartLifePage), Hostile.EmptyPartLife, Samples.Context),
        ["part lives, full"] = (typeof(PartLivesPage), Samples.PartLives, Samples.Context),
        ["part lives, hostile"] = (typeof(PartLivesPage), Hostile.PartLives, Hostile.Context),
        ["part lives, empty"] = (typeof(PartLivesPage), Hostile.EmptyPartLives, Samples.Context),
        ["failures, full"] = (typeof(FailuresPage), FailureSamples.Full, Samples.Context),
        ["failures, parts compared"] = (typeof(FailuresPage), FailureSamples.FullOfParts, Samples.Context),
        ["failures, one quiet month"] = (typeof(FailuresPage), FailureSamples.Quiet, Samples.Context),
        ["failures, hostile"] = (typeof(FailuresPage), HostileFailures.Page, Hostile.Context),
        ["failures, empty"] = (typeof(FailuresPage), FailureSamples.Empty, Samples.Context),
        ["failure records, faults"] = (typeof(FailureRecordsPage), FailureSamples.Faults, Samples.Context),
        ["failure records, parts"] = (typeof(FailureRecordsPage), FailureSamples.Parts, Samples.Context),
        ["failure records, hostile"] = (typeof(FailureRecordsPage), HostileFailures.Records, Hostile.Context),
        ["failure records, empty"] = (typeof(FailureRecordsPage), FailureSamples.Faults with { Rows = [], Next = null }, Samples.Context),
        ["failures, German"] = (typeof(FailuresPage), FailureSamples.FullOfParts, Samples.Context with { Preferences = Texts.TextFileTests.German }),
        ["failures, hostile, German"] = (typeof(FailuresPage), HostileFailures.Page, Hostile.Context with { Preferences = Texts.TextFileTests.German }),
        ["failure records, German"] = (typeof(FailureRecordsPage), FailureSamples.Parts, Samples.Context with { Preferences = Texts.TextFileTests.German }),
        ["part life, German"] = (typeof(PartLifePage), Samples.PartLife, Samples.Context with { Preferences = Texts.TextFileTests.German }),
        ["part lives, German"] = (typeof(PartLivesPage), Samples.PartLives, Samples.Context with { Preferences = Texts.TextFileTests.German }),
        ["unit, full"] = (typeof(UnitPage), Samples.UnitPage, Samples.Context),
        ["unit, hostile"] = (typeof(UnitPage), Hostile.UnitPage, Hostile.Context),
        ["unit, empty"] = (typeof(UnitPage), Hostile.EmptyUnit, Samples.Context),
        ["kitchen, full"] = (typeof(KitchenPage), Samples.Kitchen, Samples.Context),
        ["kitchen, hostile"] = (typeof(KitchenPage), Hostile.Kitchen, Hostile.Context),
        ["kitchen, empty"] = (typeof(KitchenPage), Samples.Kitchen with { Units = [], ComingDays = [] }, Samples.Context),
        ["kitchens, full"] = (typeof(SiteListPage), Samples.Sites, Samples.Context),
        ["kitchens, hostile"] = (typeof(SiteListPage), Hostile.Sites, Hostile.Context),
        ["kitchens, empty"] = (typeof(SiteListPage), Samples.Sites with { Rows = [], Total = 0, Next = null }, Samples.Context),
        ["operator, full"] = (typeof(OperatorPage), OperatorSamples.Full, Samples.Context),
        ["operator, quiet"] = (typeof(OperatorPage), OperatorSamples.Quiet, Samples.Context),
        ["operator, empty"] = (typeof(OperatorPage), OperatorSamples.Empty, Samples.Context),
        ["operator, hostile"] = (typeof(OperatorPage), OperatorSamples.Hostile, Hostile.Context),
        ["operator, history"] = (typeof(OperatorPage), OperatorSamples.Full with { Timeline = TimelineSamples.Operator }, Samples.Context),
        ["month, full"] = (typeof(MonthPage), MonthSamples.Full, Samples.Context),
        ["month, empty"] = (typeof(MonthPage), MonthSamples.Empty, Samples.Context),
        ["month, hostile"] = (typeof(MonthPage), MonthSamples.Hostile, Hostile.Context),
        ["timeline of a unit"] = (typeof(TimelinePage), TimelineSamples.Unit, Samples.Context),
        ["timeline of an operator"] = (typeof(TimelinePage), TimelineSamples.Operator, Samples.Context),
        ["timeline, empty"] = (typeof(TimelinePage), TimelineSamples.Empty, Samples.Context),
        ["timeline, hostile"] = (typeof(TimelinePage), TimelineSamples.Hostile, Hostile.Context),
        ["unit, history"] = (typeof(UnitPage), Samples.UnitPage with { Timeline = TimelineSamples.Unit }, Samples.Context),
        ["kitchen, history"] = (typeof(KitchenPage), Samples.Kitchen with { Timeline = TimelineSamples.Unit with { Subject = TimelineSubject.Site } }, Samples.Context),
        ["operators, full"] = (typeof(OperatorListPage), OperatorSamples.List, Samples.Context),
        ["operators, hostile"] = (typeof(OperatorListPage), OperatorSamples.HostileList, Hostile.Context),
        ["operators, empty"] = (typeof(OperatorListPage), OperatorSamples.List with { Rows = [], Next = null }, Samples.Context),
        ["visit sheet, full"] = (typeof(VisitSheetPage), SheetSamples.Full, Samples.Context),
        ["visit sheet, hostile"] = (typeof(VisitSheetPage), SheetSamples.Hostile, Hostile.Context),
        ["visit sheet, empty"] = (typeof(VisitSheetPage), SheetSamples.Empty, Samples.Context),
        ["units, full"] = (typeof(UnitListPage), Samples.UnitList, Samples.Context),
        ["units, hostile"] = (typeof(UnitListPage), Hostile.UnitList, Hostile.Context),
        ["units, empty"] = (typeof(UnitListPage), Hostile.EmptyUnitList, Samples.Context),
        ["close-out, fresh"] = (typeof(CloseOutPage), VisitSamples.Form, Samples.Context),
        ["close-out, refused"] = (typeof(CloseOutPage), VisitSamples.Refused, Samples.Context),
        ["close-out, correcting"] = (typeof(CloseOutPage), VisitSamples.Correcting, Samples.Context),
        ["ask, open fault"] = (typeof(AskPage), VisitSamples.Asking, Samples.Context),
        ["ask, refused"] = (typeof(AskPage), VisitSamples.AskingRefused, Samples.Context),
        ["ask, hostile"] = (typeof(AskPage), VisitSamples.HostileAsking, Hostile.Context),
        ["close-out, hostile"] = (typeof(CloseOutPage), VisitSamples.Hostile, Hostile.Context),
        ["on device"] = (typeof(OnDevicePage), new OnDeviceReport("Morning desk"), Samples.Context),
        ["on device, hostile"] = (typeof(OnDevicePage), new OnDeviceReport(Hostile.Name), Hostile.Context),
        ["visit, full"] = (typeof(VisitPage), VisitSamples.Receipt, Samples.Context),
        ["visit, corrected"] = (typeof(VisitPage), VisitSamples.Corrected, Samples.Context),
        ["visit, hostile"] = (typeof(VisitPage), VisitSamples.HostileReceipt, Hostile.Context),
        ["links, made"] = (typeof(LinksPage), LinkSamples.Made, Samples.Context),
        ["links, refused"] = (typeof(LinksPage), LinkSamples.Refused, Samples.Context),
        ["links, typed"] = (typeof(LinksPage), LinkSamples.Refused with { Next = "next", Good = 140, Typed = new LinkTyped("Office", LinkView.Calendar, "SITE-8") }, Samples.Context),
        ["links, hostile"] = (typeof(LinksPage), LinkSamples.Hostile, Hostile.Context),
        ["links, empty"] = (typeof(LinksPage), LinkSamples.Empty, Samples.Context),
        ["board, full"] = (typeof(BoardPage), new BoardReport(Samples.Status, 3), Samples.Context),
        ["board, hostile"] = (typeof(BoardPage), new BoardReport(Hostile.Cleaning.Status, 0), Hostile.Context),
        ["board, empty"] = (typeof(BoardPage), new BoardReport(Samples.Status with { Rows = [] }, 0), Samples.Context with { InventedData = true }),
        ["search, full"] = (typeof(SearchPage), SearchSamples.Full, Samples.Context),
        ["search, one kind"] = (typeof(SearchPage), SearchSamples.OneKind, Samples.Context),
        ["search, nothing"] = (typeof(SearchPage), SearchSamples.Nothing, Samples.Context),
        ["search, empty"] = (typeof(SearchPage), SearchSamples.Empty, Samples.Context),
        ["search, hostile"] = (typeof(SearchPage), SearchSamples.HostileFind, Hostile.Context),
        ["sign-in"] = (typeof(SignInPage), new SignInReport(null, null), Samples.Context with { SignedInName = null }),
        ["sign-in, company"] = (typeof(SignInPage), new SignInReport(null, "/units") { CompanyAccount = "your company account" }, Samples.Context with { SignedInName = null }),
        ["sign-in, hostile"] = (typeof(SignInPage), new SignInReport(SignInTrouble.NotTrusted, Hostile.Name) { CompanyAccount = Hostile.Name }, Hostile.Context),
        ["sign-in, wrong key"] = (typeof(SignInPage), new SignInReport(SignInTrouble.UnknownKey, "/units") { WithKey = true }, Samples.Context with { SignedInName = null }),
        ["join"] = (typeof(JoinPage), new JoinReport("token", true, "", "", 12, null), Samples.Context with { SignedInName = null }),
        ["join, hostile"] = (typeof(JoinPage), new JoinReport(Hostile.Name, true, Hostile.Name, Hostile.Name, 12, JoinTrouble.LoginTaken), Hostile.Context),
        ["new password"] = (typeof(JoinPage), new JoinReport("token", false, "anna", "Anna", 12, JoinTrouble.PasswordTooShort), Samples.Context with { SignedInName = null }),
        ["reference"] = (typeof(ReferencePage), new ReferenceReport("/openapi/v1.json", "/openapi/v1.yaml"), Samples.Context),
        ["reference, German"] = (typeof(ReferencePage), new ReferenceReport("/openapi/v1.json", "/openapi/v1.yaml"), Samples.Context with { Preferences = Texts.TextFileTests.German }),
        ["account"] = (typeof(AccountPage), new AccountReport("anna", "Anna", true, true, PeopleSamples.Sessions, 1, 12, null, AccountDone.Preferences) { Chosen = new PreferenceChoice("planner", "en-US", TimeZone: "Europe/Vienna") }, Samples.Context),
        ["account, hostile"] = (typeof(AccountPage), new AccountReport(Hostile.Name, Hostile.Name, true, true, PeopleSamples.HostileSessions, 1, 12, JoinTrouble.PresentPassword, AccountDone.Password) { Chosen = new PreferenceChoice(TimeZone: Hostile.Name) }, Hostile.Context),
        ["account, key"] = (typeof(AccountPage), new AccountReport("admin", "admin", false, false, PeopleSamples.Sessions, 1, 12, null, null), Samples.Context),
        ["account, German"] = (typeof(AccountPage), new AccountReport("anna", "Anna", true, true, PeopleSamples.Sessions, 1, 12, JoinTrouble.PasswordCommon, null), Samples.Context with { Preferences = Texts.TextFileTests.German }),
        ["sign-in, German"] = (typeof(SignInPage), new SignInReport(SignInTrouble.NoMatch, null), Samples.Context with { SignedInName = null, Preferences = Texts.TextFileTests.German }),
        ["help"] = (typeof(HelpPage), HelpReport.For(ReaderRole.All), Samples.Context),
        ["people, typed"] = (typeof(PeoplePage), new PeopleReport([PeopleSamples.Anna], null, [], PeopleSamples.All, null, "No.") { MaySignIn = 140, Typed = PeopleSamples.Typed }, Samples.Context),
        ["keys, typed"] = (typeof(KeysPage), new KeysReport(PeopleSamples.Keys, PeopleSamples.All, null, "No.") { Next = "next", Good = 140, Typed = PeopleSamples.Typed }, Samples.Context),
        ["keys, typed, hostile"] = (typeof(KeysPage), new KeysReport(PeopleSamples.HostileKeys, PeopleSamples.All, null, Hostile.Name) { Next = Hostile.Name, Typed = PeopleSamples.HostileTyped }, Hostile.Context),
        ["people"] = (typeof(PeoplePage), new PeopleReport([PeopleSamples.Anna], "next", [PeopleSamples.Invitation], PeopleSamples.All, PeopleSamples.Invitation, null), Samples.Context),
        ["people, empty"] = (typeof(PeoplePage), new PeopleReport([], null, [], PeopleSamples.All, null, "No."), Samples.Context),
        ["people, hostile"] = (typeof(PeoplePage), new PeopleReport([PeopleSamples.Hostile], Hostile.Name, [PeopleSamples.HostileInvitation], PeopleSamples.All, PeopleSamples.HostileInvitation, Hostile.Name), Hostile.Context),
        ["person"] = (typeof(PersonPage), new PersonReport(PeopleSamples.Anna, PeopleSamples.Sessions, PeopleSamples.All, null, null), Samples.Context),
        ["person, hostile"] = (typeof(PersonPage), new PersonReport(PeopleSamples.Hostile, PeopleSamples.HostileSessions, PeopleSamples.All, new PasswordLinkEntry(Hostile.Name, DateTimeOffset.MaxValue, Hostile.Name), Hostile.Name), Hostile.Context),
        ["keys"] = (typeof(KeysPage), new KeysReport(PeopleSamples.Keys, PeopleSamples.All, null, null), Samples.Context),
        ["keys, hostile"] = (typeof(KeysPage), new KeysReport(PeopleSamples.HostileKeys, PeopleSamples.All, PeopleSamples.HostileKeys[0], Hostile.Name), Hostile.Context),
        ["problem"] = (typeof(ProblemPage), Problem, Samples.Context),
        ["problem, hostile"] = (typeof(ProblemPage), new ProblemReport(500, Hostile.Name, Hostile.Name, Hostile.Name, Hostile.Name),
            Hostile.Context),
    };

    public Pages()
    {
        foreach (string name in All.Keys)
        {
            Add(name);
        }
    }

    public static Task<string> RenderAsync(string name) => Markup.RenderAsync(All[name].Page, All[name].Report, All[name].Context);

    public static Task<AngleSharp.Html.Dom.IHtmlDocument> ParseAsync(string name) =>
        Markup.ParseAsync(All[name].Page, All[name].Report, All[name].Context);

    public static Task<AngleSharp.Html.Dom.IHtmlDocument> ParseAsync(string name, ReaderPreferences reader) =>
        Markup.ParseAsync(All[name].Page, All[name].Report, All[name].Context with { Preferences = reader });

    public static object Report(string name) => All[name].Report;
}
