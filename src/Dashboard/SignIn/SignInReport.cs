namespace Washwear.Dashboard.SignIn;

/// <summary>What the sign-in page shows.</summary>
/// <param name="Error">Why the last try failed, in plain words; null on a first visit.</param>
/// <param name="ReturnTo">Path of the page to go to after signing in; null: the first page.</param>
public sealed record SignInReport(string? Error, string? ReturnTo);
