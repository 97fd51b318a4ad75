using Washwear.Api.Security;
using Washwear.Dashboard.SignIn;

namespace Washwear.Api.Tests.Security;

/// <summary>Long and not common is enough.</summary>
public sealed class PasswordRulesTests
{
    [Theory]
    [InlineData("short pass", JoinTrouble.PasswordTooShort)]
    [InlineData("1qaz2wsx3edc", JoinTrouble.PasswordCommon)]
    [InlineData("Password12345!", JoinTrouble.PasswordCommon)]
    [InlineData("passwordpassword", JoinTrouble.PasswordCommon)]
    [InlineData("aaaaaaaaaaaaaaaa", JoinTrouble.PasswordCommon)]
    [InlineData("anna.berger12345", JoinTrouble.PasswordOwnName)]
    [InlineData("washwear-2026-1", JoinTrouble.PasswordOwnName)]
    public void A_common_or_short_password_is_refused_with_its_reason(string password, JoinTrouble reason) =>
        Assert.Equal(reason, PasswordRules.WhyNot(password, "anna.berger", "Anna Berger"));

    [Theory]
    [InlineData("four words in a row")]
    [InlineData("onlylowercaseletters")]
    [InlineData("шестнадцать букв")]
    [InlineData("tea, then ovens: anna.berger")]
    public void No_rule_of_composition_stands_in_the_way(string password) =>
        Assert.Null(PasswordRules.WhyNot(password, "anna.berger", "Anna Berger"));

    [Fact]
    public void An_accent_is_the_same_on_every_keyboard()
    {
        var passwords = new Passwords();
        string hash = passwords.Hash("caf\u00e9 au lait deux");
        Assert.NotEqual(Microsoft.AspNetCore.Identity.PasswordVerificationResult.Failed, passwords.Check(hash, "cafe\u0301 au lait deux"));
    }
}
